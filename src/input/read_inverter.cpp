#include <fmt/format.h>
#include <fmt/ranges.h>

#include <array>
#include <cmath>
#include <filesystem>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "input/case_reader.hpp"
#include "input/column_table.hpp"
#include "input/entry_members.hpp"
#include "input/machine_reader.hpp"
#include "ohmdrag/voltage/coupling.hpp"
#include "ohmdrag/voltage/measured_waveform.hpp"

namespace ohmdrag::input {

namespace {

const std::vector<std::string> modulation_words{"sine-triangle", "space-vector"};

void scale(UncertainNumber& number, double factor) {
  number.spread.mid *= factor;
  if (number.spread.shape != Shape::log_normal) number.spread.half_width *= factor;
  if (number.scatter.shape != Shape::log_normal) number.scatter.half_width *= factor;
}

/// The whole ramp of an edge whose time may be stated for the middle 80 % of it.
Uncertain<Time> ramp(TableReader& table, std::string_view key, bool middle_part,
                     std::string_view part_in_words) {
  Uncertain<Time> time = table.number<Time>(key);
  if (!middle_part) return time;
  // A linear ramp from 10 % to 90 % covers 0.8 of the whole (derived: definition).
  constexpr double share_between_10_and_90 = 0.8;
  scale(time, 1.0 / share_between_10_and_90);
  time.read_as += fmt::format(" from {}, here as the whole ramp", part_in_words);
  return time;
}

}  // namespace

study::MachineSize read_machine_size(ReadContext& context, const Node& entry, const Node* base) {
  TableReader table{context, &entry, "machine_size"};
  table.find("title");
  auto out = members_of<study::MachineSize>(table, base);
  table.done();
  return out;
}

void CaseReader::read_inverter() {
  if (!top_.has("inverter")) return;
  TableReader table = top_.table("inverter");
  study::Inverter inverter;
  inverter.dc_link = table.number<Voltage>("dc_link");
  inverter.switching_frequency = table.number<Frequency>("switching_frequency");
  constexpr std::array<std::string_view, 2> rises{"rise_time_10_90", "rise_time_0_100"};
  const std::string_view rise = table.exactly_one(rises);
  inverter.rise_time_given_10_90 = rise != rises[1];
  if (!rise.empty())
    inverter.rise_time = ramp(table, rise, inverter.rise_time_given_10_90, "10 to 90 %");
  constexpr std::array<std::string_view, 2> falls{"fall_time_90_10", "fall_time_100_0"};
  if (const std::string_view fall = table.exactly_one(falls, false); !fall.empty())
    inverter.fall_time = ramp(table, fall, fall == falls[0], "90 to 10 %");
  inverter.modulation = table.word("modulation", modulation_words, false) == modulation_words[1]
                            ? voltage::ModulationKind::space_vector
                            : voltage::ModulationKind::sine_triangle;
  inverter.blocked_at_standstill =
      table.number<double>("blocked_at_standstill", fallback("inverter", "blocked_at_standstill"));
  inverter.shaft = shaft_of(table);
  read_modulation_index(table, inverter);
  if (table.has("ringing")) {
    TableReader ringing = table.table("ringing");
    inverter.ringing = study::Inverter::Ringing{ringing.number<Frequency>("frequency"),
                                                ringing.number<double>("share_of_step"),
                                                ringing.number<double>("quality")};
    ringing.done();
  }
  if (table.has("waveform")) read_waveform(table, inverter);
  table.done();
  out_.inverter = std::move(inverter);
}

void CaseReader::read_modulation_index(TableReader& table, study::Inverter& inverter) {
  if (table.has("modulation_index")) {
    TableReader over_speed = table.table("modulation_index");
    for (const auto& at : over_speed.numbers<AngularVelocity>("at"))
      inverter.modulation_at.push_back(at.nominal());
    for (const auto& value : over_speed.numbers<double>("value"))
      inverter.modulation_index.push_back(value.nominal());
    if (inverter.modulation_at.empty() ||
        inverter.modulation_at.size() != inverter.modulation_index.size())
      table.complain("modulation_index",
                     fmt::format("read {} speeds and {} values; expected as many of both, one at "
                                 "least",
                                 inverter.modulation_at.size(), inverter.modulation_index.size()));
    for (std::size_t i = 1; i < inverter.modulation_at.size(); ++i)
      if (!(inverter.modulation_at[i] > inverter.modulation_at[i - 1])) {
        over_speed.complain("at", "the speeds must rise");
        break;
      }
    over_speed.done();
  } else {
    // M = max clamp(n / base_speed, minimum_share, 1): exact as a line through these three.
    TableReader assumed{context_, &tables_.section("modulation"), "modulation"};
    const double max = assumed.number<double>("max").nominal();
    const AngularVelocity base = assumed.number<AngularVelocity>("base_speed").nominal();
    const double least = assumed.number<double>("minimum_share").nominal();
    inverter.modulation_at = {AngularVelocity{}, least * base, base};
    inverter.modulation_index = {least * max, least * max, max};
    inverter.modulation_assumed = true;
    warn(
        "The inverter's modulation over speed is assumed: it rises to the linear limit at the "
        "assumed base speed.");
  }
}

void CaseReader::read_waveform(TableReader& table, study::Inverter& inverter) {
  constexpr std::array columns{MappedColumn{"time", Dimension::time},
                               MappedColumn{"voltage", Dimension::voltage}};
  TableReader record = table.table("waveform");
  const auto read = read_column_table(record, columns, out_.provenance);
  const auto period = record.maybe_number<Time>("period");
  if (period && !period->certain())
    record.complain("period",
                    fmt::format("read {}; expected one value without spread", period->read_as));
  record.done();
  if (!read) return;
  std::vector<voltage::VoltageSample> samples;
  for (std::size_t i = 0; i < read->columns[0].size(); ++i)
    samples.push_back(
        {Time::from_value(read->columns[0][i]), Voltage::from_value(read->columns[1][i])});
  try {
    inverter.waveform = voltage::measured_waveform(
        samples, period ? std::optional(period->nominal()) : std::nullopt);
  } catch (const std::invalid_argument& error) {
    record.complain("file", fmt::format("{}: {}", read->file, error.what()));
    return;
  }
  const std::string name = std::filesystem::path(read->file).filename().string();
  for (const std::string& caution : voltage::cautions_of(*inverter.waveform))
    warn(fmt::format("Waveform {}: {}", name, caution));
  const double periods =
      inverter.waveform->waveform.period * inverter.switching_frequency.nominal();
  if (constexpr double far_off = 0.02; std::abs(periods - std::round(periods)) > far_off * periods)
    warn(
        fmt::format("Waveform {}: its period holds {:.2f} carrier periods of the stated switching "
                    "frequency, no whole number.",
                    name, periods));
}

/// Rotor to frame over the air gap, as one number: its spread is that of the four sizes and of the
/// estimate together, as if they were normal and independent.
Uncertain<Capacitance> CaseReader::over_air_gap(TableReader& table) {
  TableReader gap = table.table("air_gap");
  const auto bore = gap.number<Length>("bore"), stack = gap.number<Length>("stack");
  const auto width = gap.number<Length>("gap");
  const auto carter = gap.number<double>("carter_factor");
  gap.done();
  TableReader constants{context_, &tables_.section("air_gap"), "air_gap"};
  const auto estimate = constants.number<double>("estimate");

  Uncertain<Capacitance> out;
  out.key = gap.path();
  out.read_as = "estimated over the air gap";
  out.basis = Basis::unverified;  // of the formula
  out.source = "eps_0 pi D l/(k_C gap), textbook estimate from memory";
  double square = 0.0;
  const std::array<const UncertainNumber*, 5> parts{&bore, &stack, &width, &carter, &estimate};
  for (const UncertainNumber* part : parts) {
    out.basis = weakest(out.basis, part->basis);
    const Interval interval = part->spread.interval();
    square += std::pow(0.5 * (interval.high - interval.low) / part->mid(), 2);
  }
  try {
    out.spread.mid =
        estimate.mid() * voltage::air_gap_capacitance(bore.nominal(), stack.nominal(),
                                                      width.nominal(), carter.nominal())
                             .value();
  } catch (const std::invalid_argument& error) {
    table.complain("air_gap", error.what());
    out.spread.mid = 1.0;
    return out;
  }
  out.spread.shape = Shape::normal;
  out.spread.half_width = std::sqrt(square) * out.spread.mid;
  out.spread.floor = 0.0;
  return out;
}

void CaseReader::read_coupling() {
  if (!top_.has("coupling")) return;
  TableReader table = top_.table("coupling");
  study::Coupling coupling;
  coupling.shaft = shaft_of(table);
  std::optional<Node> size;
  if (table.has("size")) {
    coupling.size = known_id(table, "size", entry_ids({"machine_size"}), "size of machines");
    size = entry("machine_size", coupling.size);
  }
  const auto preset = [&](const char* key) { return size ? size->find(key) : nullptr; };
  coupling.winding_rotor = table.number<Capacitance>("winding_rotor", preset("winding_rotor"));
  constexpr std::array<std::string_view, 2> ways{"rotor_frame", "air_gap"};
  if (table.exactly_one(ways, !size) == ways[1])
    coupling.rotor_frame = over_air_gap(table);
  else if (size || table.has("rotor_frame"))
    coupling.rotor_frame = table.number<Capacitance>("rotor_frame", preset("rotor_frame"));
  table.done();
  std::vector<std::string_view> taken;
  if (size && !table.has("winding_rotor")) taken.emplace_back("winding_rotor");
  if (size && !table.has("rotor_frame") && !table.has("air_gap")) taken.emplace_back("rotor_frame");
  if (!taken.empty())
    warn(fmt::format("Preset by machine size, from memory; measure: coupling {} of size {}.",
                     fmt::join(taken, " and "), coupling.size));
  out_.coupling = std::move(coupling);
}

}  // namespace ohmdrag::input

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include "input/case_reader.hpp"

namespace ohmdrag::input {

namespace {

/// Shares that are typed in per cent or with two decimals add up to 1 within this.
constexpr double share_rounding = 1e-6;
/// Enough for any test sequence, and no typing error makes a case run for hours.
constexpr long long most_repeats = 100;
/// A machine that warms up repeats its profile until this shift is full.
constexpr double shift_s = 8.0 * 3600.0;

}  // namespace

void CaseReader::read_cycles(TableReader& table, study::Duty& duty) {
  if (!out_.vehicle)
    table.complain("cycle", "a drive cycle needs a [vehicle]; there is none",
                   "write shaft_speed = \"… rpm\" and hours_per_year instead");
  const std::vector<std::string> known = tables_.ids("cycle");
  bool soak_last = false;
  for (const Node* item : table.items("cycle")) {
    soak_last = item->is_table();
    if (soak_last) {
      TableReader rest{context_, item, "duty.cycle"};
      duty.soaks.push_back({duty.cycles.size(), rest.number<Time>("soak")});
      rest.done();
    } else if (item->is_text() && tables_.entry("cycle", item->text)) {
      duty.cycles.push_back(tables_.cycle(item->text));
    } else if (item->is_text()) {
      table.complain("cycle", fmt::format("read \"{}\", but there is no such cycle", item->text),
                     suggestion(item->text, known));
    } else {
      table.complain("cycle", fmt::format("read {}; expected the id of a cycle in quotes or "
                                          "{{ soak = \"10 min\" }}",
                                          item->as_typed()));
    }
  }
  if (table.items("cycle").empty())
    table.complain("cycle", "read an empty list; expected at least one cycle");
  else if (soak_last)
    table.complain("cycle", "a soak at the end cools nothing that is driven afterwards",
                   "for a rest before each repeat write soak = \"10 min\" beside repeats");
  repeat_cycles(table, duty);
  if (!duty.soaks.empty() && table.has("oil_temperature"))
    table.complain("oil_temperature", "oil that is held at a temperature does not cool in a soak",
                   "write start_temperature = \"… degC\" instead");
}

int CaseReader::repeats_of(TableReader& table, int otherwise) {
  const auto stated = table.maybe_integer("repeats");
  if (!stated) return otherwise;
  if (*stated >= 1 && *stated <= most_repeats) return static_cast<int>(*stated);
  table.complain("repeats", fmt::format("read {}; expected 1 to {}", *stated, most_repeats));
  return otherwise;
}

void CaseReader::repeat_cycles(TableReader& table, study::Duty& duty) {
  const int repeats = repeats_of(table, 1);
  const std::optional<Uncertain<Time>> soak = table.maybe_number<Time>("soak");
  if (soak && repeats == 1)
    table.complain("soak", "is the rest between repeats, of which there are none",
                   "write repeats = 2 or more, or cycle = [\"…\", { soak = \"10 min\" }, \"…\"]");
  const std::vector<duty::Cycle> once = duty.cycles;
  const std::vector<study::Duty::Soak> rests = duty.soaks;
  for (int turn = 1; turn < repeats; ++turn) {
    const std::size_t first = duty.cycles.size();
    if (soak) duty.soaks.push_back({first, *soak});
    for (const study::Duty::Soak& rest : rests)
      duty.soaks.push_back({first + rest.before_cycle, rest.time});
    duty.cycles.insert(duty.cycles.end(), once.begin(), once.end());
  }
}

void CaseReader::read_load_steps(TableReader& table, std::string_view kind, study::Duty& duty) {
  const bool histogram = kind == "histogram";
  const bool oil_of_duty = table.has("start_temperature") || table.has("oil_temperature");
  double shares = 0.0;
  for (TableReader& row : table.tables(kind)) {
    study::LoadStep step;
    step.id = row.maybe_text("id").value_or(
        fmt::format("{}-{}", histogram ? "bin" : "step", duty.load_steps.size() + 1));
    if (histogram) {
      const double share = row.maybe_plain("share").value_or(0.0);
      if (!row.has("share"))
        row.missing("share", "the part of the running time, 0 to 1");
      else if (!(share > 0.0 && share <= 1.0))
        row.complain("share", fmt::format("read {}; expected more than 0, at most 1", share));
      shares += share;
      step.time = Uncertain<Time>{Time::from_value(3600.0 * share), Basis::derived,
                                  "the bin's share of an hour"};
      step.time.key = row.path() + ".share";
    } else {
      step.time = row.number<Time>("time");
    }
    step.shaft_speed = row.number<AngularVelocity>("shaft_speed");
    step.torque = row.maybe_number<Torque>("torque");
    step.oil_temperature = row.maybe_number<Temperature>("oil_temperature");
    if (step.oil_temperature && oil_of_duty)
      row.complain("oil_temperature", "is given for the whole duty as well",
                   "leave one of the two out");
    if (!step.oil_temperature && (!oil_of_duty || histogram))
      row.missing("oil_temperature",
                  histogram ? "a temperature: a histogram has no order in which oil could warm up"
                            : "a temperature in every step, or one of start_temperature and "
                              "oil_temperature for the duty");
    row.done();
    duty.load_steps.push_back(std::move(step));
  }
  if (duty.load_steps.empty() && table.has(kind) && table.find(kind)->is_array())
    table.complain(kind, "read an empty list; expected one entry at least");
  if (histogram && !duty.load_steps.empty() && std::abs(shares - 1.0) > share_rounding)
    table.complain(kind, fmt::format("the shares add up to {:.6g}; expected 1", shares));
  if (histogram && oil_of_duty)
    table.complain(table.has("start_temperature") ? "start_temperature" : "oil_temperature",
                   "a histogram holds the oil of every bin",
                   "write oil_temperature in every bin instead");
  read_profile_repeats(table, histogram, duty);
}

void CaseReader::read_profile_repeats(TableReader& table, bool histogram, study::Duty& duty) {
  if (!table.has("start_temperature")) {
    if (table.has("repeats"))
      table.complain("repeats",
                     "has no effect where the oil is held: one profile stands for all of them",
                     "hours_per_year says how long the machine runs");
    return;
  }
  if (histogram) return;
  double period_s = 0.0;
  for (const study::LoadStep& step : duty.load_steps) period_s += step.time.mid();
  const double shift_repeats = period_s > 0.0 ? std::ceil(shift_s / period_s) : 1.0;
  // A profile of seconds is a machine's cycle time; its shift is a thousand of them.
  constexpr double most_in_a_shift = 2000.0;
  if (!table.has("repeats") && shift_repeats > most_in_a_shift)
    table.complain("steps",
                   fmt::format("the profile lasts {:.3g} s, too short to follow a shift "
                               "of eight hours from its start temperature",
                               period_s),
                   "write oil_temperature for the duty, or repeats");
  duty.profile_repeats =
      repeats_of(table, static_cast<int>(std::min(shift_repeats, most_in_a_shift)));
}

void CaseReader::add_duty(TableReader& table, study::Duty duty) {
  duty.family = duty.id;
  const Node* start = table.find("start_temperature");
  if (!start || !start->is_array()) {
    duty.start_temperature = table.maybe_number<Temperature>("start_temperature");
    out_.duties.push_back(std::move(duty));
    return;
  }
  const std::vector<Uncertain<Temperature>> starts =
      table.numbers<Temperature>("start_temperature");
  if (starts.empty())
    table.complain("start_temperature", "read an empty list; expected at least one temperature");
  if (!duty.is_driven())
    table.complain("start_temperature",
                   "several start temperatures are for drive cycles, whose distance is shared out",
                   "write a [[duty]] with its own hours_per_year for each");
  for (const Uncertain<Temperature>& from : starts) {
    study::Duty one = duty;
    const std::string celsius = fmt::format("{:.4g}", in_celsius(from.nominal()));
    one.id = fmt::format("{}@{}C", duty.family, celsius);
    one.title = fmt::format("{}, from {} °C", duty.title, celsius);
    one.start_temperature = from;
    if (std::ranges::find(out_.duties, one.id, &study::Duty::id) != out_.duties.end())
      table.complain("start_temperature", fmt::format("read {} degC twice", celsius));
    out_.duties.push_back(std::move(one));
  }
}

std::vector<std::string> CaseReader::duty_ids() const {
  std::vector<std::string> ids;
  for (const study::Duty& duty : out_.duties) {
    if (ids.empty() || std::ranges::find(ids, duty.family) == ids.end()) ids.push_back(duty.family);
    if (duty.id != duty.family) ids.push_back(duty.id);
  }
  return ids;
}

}  // namespace ohmdrag::input

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include "input/case_reader.hpp"
#include "input/element_reader.hpp"

namespace ohmdrag::input {

namespace {

struct MeasureRow {
  std::string_view word;
  study::Measure measure;
  Dimension dimension;
};
constexpr std::array measures{
    MeasureRow{"impedance-magnitude", study::Measure::impedance_magnitude, Dimension::resistance},
    MeasureRow{"net-power", study::Measure::net_power, Dimension::power},
    MeasureRow{"contact-temperature", study::Measure::contact_temperature, Dimension::temperature},
    MeasureRow{"edge-peak", study::Measure::edge_peak, Dimension::voltage},
    MeasureRow{"held-voltage", study::Measure::held_voltage, Dimension::voltage},
    MeasureRow{"striking-time-share", study::Measure::striking_time_share, Dimension::ratio},
    MeasureRow{"dose-factor", study::Measure::dose_factor, Dimension::ratio},
    MeasureRow{"battery-energy-per-distance", study::Measure::battery_energy_per_distance,
               Dimension::energy_per_distance},
    MeasureRow{"mechanical-life", study::Measure::mechanical_life, Dimension::time},
    MeasureRow{"modified-life", study::Measure::modified_life, Dimension::time},
};

const std::vector<std::string> times_of_life{"begin-of-service", "end-of-service"};

constexpr std::size_t shortest_seal = 20;

std::vector<std::string> joined(std::vector<std::string> a, const std::vector<std::string>& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}

}  // namespace

void CaseReader::read_study() {
  TableReader table = top_.table("study");
  out_.title = table.maybe_text("title").value_or(fallback_title_);
  out_.question = table.maybe_text("question").value_or(std::string{});
  out_.invented = table.flag("invented", false);
  if (const auto seed = table.maybe_integer("seed")) {
    if (*seed < 0)
      table.complain("seed", fmt::format("read {}; expected 0 or more", *seed));
    else
      out_.seed = static_cast<unsigned long long>(*seed);
  }
  read_samples(table);
  if (const auto seal = table.maybe_text("seal"); seal && seal->size() < shortest_seal)
    table.complain(
        "seal", fmt::format("read {} characters; expected {} or more", seal->size(), shortest_seal),
        "a hash of few values that are sealed could be guessed otherwise");
  const std::vector<std::string> variants = ids_of("variant");
  if (table.has("baseline")) {
    out_.baseline = known_id(table, "baseline", variants, "variant");
  } else if (!variants.empty()) {
    out_.baseline = variants.front();
    if (variants.size() > 1)
      warn(
          fmt::format("No baseline is named: the first variant, {}, stands for the present "
                      "design.",
                      out_.baseline));
  }
  table.done();
}

void CaseReader::read_service() {
  if (!top_.has("service")) return;
  TableReader table = top_.table("service");
  study::Service& service = out_.service;
  service.distance = table.maybe_number<Length>("distance");
  service.years = table.maybe_number<double>("years");
  service.hours = table.maybe_number<Time>("hours");
  if (const auto reliability = table.maybe_number<double>("reliability")) {
    service.reliability = reliability->nominal();
    if (!reliability->certain())
      table.complain("reliability", fmt::format("read {}; expected one value without spread",
                                                reliability->read_as));
  }
  if (table.has("mix")) {
    TableReader mix = table.table("mix");
    const std::vector<std::string> duties = duty_ids();
    double sum = 0.0;
    // A duty named as written stands for all its start temperatures, in equal shares.
    const auto share_out = [&](double share, const std::string& named) {
      std::vector<std::string> meant;
      for (const study::Duty& duty : out_.duties)
        if (duty.id == named || duty.family == named) meant.push_back(duty.id);
      for (const std::string& id : meant) service.mix[id] += share / double(meant.size());
    };
    if (mix.present())
      for (const Node& child : mix.node()->children) {
        if (child.holds_for_its_table()) continue;
        const double share = mix.maybe_plain(child.key).value_or(0.0);
        if (std::ranges::find(duties, child.key) == duties.end())
          mix.complain(child.key, fmt::format("there is no duty \"{}\"", child.key),
                       suggestion(child.key, duties));
        if (!(share >= 0.0 && share <= 1.0))
          mix.complain(child.key, fmt::format("read {}; a share lies between 0 and 1", share));
        share_out(share, child.key);
        sum += share;
      }
    constexpr double rounding = 1e-6;
    if (mix.present() && std::abs(sum - 1.0) > rounding)
      table.complain("mix", fmt::format("the shares add up to {:.6g}; expected 1", sum));
  }
  table.done();
}

void CaseReader::read_requirements() {
  std::vector<std::string> words;
  for (const MeasureRow& row : measures) words.emplace_back(row.word);
  const std::vector<std::string> places = joined(ids_of("operating_point"), duty_ids());
  constexpr std::array<std::string_view, 2> limits{"max", "min"};
  constexpr std::array<std::string_view, 2> spectra{"frequency", "band"};
  for (TableReader& table : top_.tables("requirement")) {
    study::Requirement out;
    out.id = id_text(table);
    const std::string word = table.word("quantity", words);
    const auto row = std::ranges::find(measures, std::string_view{word}, &MeasureRow::word);
    out.measure = row->measure;
    const bool known = table.has("quantity") && table.find("quantity")->is_text() &&
                       table.find("quantity")->text == word;
    table.exactly_one(limits);
    // Without the quantity the dimension of its limit is unknown: one complaint is enough.
    if (known) {
      out.max = table.maybe_number_of("max", row->dimension);
      out.min = table.maybe_number_of("min", row->dimension);
    }
    table.exactly_one(spectra, false);
    for (const auto& frequency : table.numbers<Frequency>("frequency"))
      out.band.push_back(frequency.nominal());
    for (const auto& frequency : table.numbers<Frequency>("band"))
      out.band.push_back(frequency.nominal());
    if (table.has("frequency") && out.band.size() != 1)
      table.complain("frequency", "expected one frequency", "a band is band = [\"…\", \"…\"]");
    if (table.has("band") && (out.band.size() != 2 || !(out.band[0] < out.band[1])))
      table.complain("band", "expected its two ends, the lower one first");
    if (table.has("point")) out.point = known_id(table, "point", places, "operating point or duty");
    out.end_of_service = table.word("at", times_of_life, false) == times_of_life[1];
    const auto share = [&](const char* key, double& into) {
      const auto plain = table.maybe_plain(key);
      if (!plain) return;
      if (!(*plain > 0.0 && *plain < 1.0))
        table.complain(key, fmt::format("read {}; expected more than 0 and less than 1", *plain));
      into = *plain;
    };
    share("share_of_parts", out.share_of_parts);
    share("confidence", out.confidence);
    table.done();
    out_.requirements.push_back(std::move(out));
  }
}

void CaseReader::read_damage() {
  if (!top_.has("damage")) return;
  TableReader table = top_.table("damage");
  const std::vector<std::string> words{"dose", "current-density", "relative"};
  const std::vector<std::string> laws = table.texts("law");
  if (!table.has("law")) table.missing("law", fmt::format("one of {}", fmt::join(words, ", ")));
  const bool calibrated = table.has("calibration");
  TableReader calibration = table.table("calibration");
  const bool relative_given = table.has("relative");
  TableReader relative = table.table("relative");
  const Node* constants = table.find("current_density");
  for (const std::string& word : laws) {
    study::DamageLaw law;
    if (word == "dose") {
      law.kind = study::LawKind::dose;
      if (!calibrated) {
        table.complain("calibration", "missing; the dose law needs one observation of your own",
                       "write calibration = { observed = \"first raceway noise\", after = \"… h\", "
                       "in = \"<variant>\" }");
      } else {
        law.observed = calibration.text("observed");
        law.after = calibration.number<Time>("after");
        law.in_variant = known_id(calibration, "in", ids_of("variant"), "variant");
      }
    } else if (word == "current-density") {
      law.kind = study::LawKind::current_density;
      Node empty;
      empty.origin = "damage.current_density";
      empty.place = table.node() ? table.node()->place : Place{};
      TableReader own{context_, constants ? constants : &empty, "damage.current_density"};
      read_current_density(own, tables_.entry("law", "current-density"), law);
      own.done();
    } else if (word == "relative") {
      law.kind = study::LawKind::relative;
      if (!relative_given) {
        table.complain("relative", "missing; expected a table",
                       "write [damage.relative] with baseline_life and power");
      } else {
        law.baseline_life = relative.number<Time>("baseline_life");
        law.power = relative.number<double>("power");
      }
    } else {
      table.complain("law",
                     fmt::format("read \"{}\"; expected one of {}", word, fmt::join(words, ", ")),
                     suggestion(word, words));
    }
    const bool twice = std::ranges::any_of(
        out_.laws, [&](const study::DamageLaw& other) { return other.kind == law.kind; });
    if (!twice) out_.laws.push_back(std::move(law));
  }
  for (const char* key : {"observed", "after", "in"}) calibration.find(key);
  for (const char* key : {"baseline_life", "power"}) relative.find(key);
  calibration.done();
  relative.done();
  table.done();
}

void CaseReader::read_prices() {
  if (!top_.has("prices")) return;
  TableReader table = top_.table("prices");
  study::Prices prices;
  const auto states = [&](std::string_view key) { return table.has(key); };
  constexpr std::array<std::string_view, 3> in_money{"energy", "bearing_event", "element"};
  if (table.has("currency") || std::ranges::any_of(in_money, states) ||
      !table.has("charging_efficiency"))
    prices.currency = table.text("currency");
  const auto price = [](TableReader& from, std::string_view key) {
    const auto plain = from.maybe_plain(key);
    if (plain && !(*plain >= 0.0))
      from.complain(key, fmt::format("read {}; a price is not negative", *plain));
    return plain;
  };
  prices.energy_per_kWh = price(table, "energy");
  prices.bearing_event = price(table, "bearing_event");
  if (const auto efficiency = table.maybe_plain("charging_efficiency")) {
    if (!(*efficiency > 0.0 && *efficiency <= 1.0))
      table.complain("charging_efficiency",
                     fmt::format("read {}; expected more than 0, at most 1", *efficiency));
    prices.charging_efficiency = *efficiency;
  }
  if (table.has("element")) {
    TableReader elements = table.table("element");
    const std::vector<std::string> variants = ids_of("variant");
    if (elements.present())
      for (const Node& child : elements.node()->children) {
        if (child.holds_for_its_table()) continue;
        if (std::ranges::find(variants, child.key) == variants.end())
          elements.complain(child.key, fmt::format("there is no variant \"{}\"", child.key),
                            suggestion(child.key, variants));
        if (const auto plain = elements.maybe_plain(child.key)) prices.element[child.key] = *plain;
      }
  }
  table.done();
  out_.prices = std::move(prices);
}

void CaseReader::read_evidence() {
  if (!top_.has("evidence")) return;
  TableReader table = top_.table("evidence");
  out_.evidence.events = table.maybe_text("events").value_or(std::string{});
  out_.evidence.field_events = !out_.evidence.events.empty();
  table.done();
}

}  // namespace ohmdrag::input

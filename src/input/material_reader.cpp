#include "input/material_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "input/entry_members.hpp"
#include "ohmdrag/study/material_members.hpp"

namespace ohmdrag::input {

namespace {

/// What every entry may say beside its numbers.
TableReader table_of(ReadContext& context, const Node& entry, const char* section) {
  TableReader table{context, &entry, section};
  table.find("title");
  table.find("remark");
  return table;
}

/// A number that defines something: a spread would be dropped, so it is complained of.
template <class Q>
Uncertain<Q> exact(TableReader& table, std::string_view key) {
  Uncertain<Q> out = table.number<Q>(key);
  if (!out.certain())
    table.complain(key, fmt::format("read {}; expected one value without spread", out.read_as));
  return out;
}

/// Draws of the lower must stay below those of the upper: their 95 % intervals must not meet.
void in_order(TableReader& table, std::string_view lower_key, const UncertainNumber& lower,
              std::string_view upper_key, const UncertainNumber& upper) {
  if (!table.has(lower_key) || !table.has(upper_key)) return;
  if (lower.spread.interval().high < upper.spread.interval().low) return;
  table.complain(upper_key, fmt::format("must lie above {}, spreads included; read {} and {}",
                                        lower_key, lower.read_as, upper.read_as));
}

Basis basis_of(const Node& node) { return basis_from_word(node.basis).value_or(Basis::assumed); }

study::Fit::Band read_fit_band(TableReader& table) {
  const auto above = exact<Length>(table, "above");
  const auto up_to = exact<Length>(table, "up_to");
  const auto lower = exact<Length>(table, "lower_deviation");
  const auto upper = exact<Length>(table, "upper_deviation");
  if (table.has("above") && table.has("up_to") && !(up_to.mid() > above.mid()))
    table.complain("up_to", "a band must end above its start");
  if (table.has("lower_deviation") && table.has("upper_deviation") && !(upper.mid() >= lower.mid()))
    table.complain("upper_deviation", "must not lie below lower_deviation");
  study::Fit::Band out{above.nominal(), up_to.nominal(), lower.nominal(), upper.nominal()};
  out.basis = basis_of(*table.node());
  out.source = table.node()->source;
  table.done();
  return out;
}

}  // namespace

study::SealLimits read_seal_limits(ReadContext& context, const Node& entry, const Node* base) {
  TableReader table = table_of(context, entry, "seal_material");
  auto out = members_of<study::SealLimits>(table, base);
  if (out.continuous_low && out.continuous_high)
    in_order(table, "continuous_low", *out.continuous_low, "continuous_high", *out.continuous_high);
  table.done();
  return out;
}

study::Relaxation read_relaxation(ReadContext& context, const Node& entry, const Node* base) {
  TableReader table = table_of(context, entry, "relaxation");
  auto out = members_of<study::Relaxation>(table, base);
  table.done();
  return out;
}

study::ModulusCurve read_modulus(ReadContext& context, const Node& entry, const Node*) {
  TableReader table = table_of(context, entry, "modulus_over_temperature");
  study::ModulusCurve out;
  for (TableReader& row : table.tables("points")) {
    study::ModulusPoint point;
    point.temperature = exact<Temperature>(row, "temperature");
    point.ratio = row.number<double>("ratio");
    if (row.has("temperature") && !out.points.empty() &&
        !(point.temperature.mid() > out.points.back().temperature.mid()))
      row.complain("temperature", "the temperatures must rise from point to point");
    row.done();
    out.points.push_back(std::move(point));
  }
  if (!table.has("points")) table.missing("points", "points of temperature and ratio");
  table.done();
  return out;
}

study::LipForm read_lip_form(ReadContext& context, const Node& entry, const Node* base) {
  TableReader table = table_of(context, entry, "lip_form");
  auto out = members_of<study::LipForm>(table, base);
  table.done();
  return out;
}

study::Wear read_wear(ReadContext& context, const Node& entry, const Node*) {
  TableReader table = table_of(context, entry, "wear");
  study::Wear out;
  if (auto rate = table.maybe_number_of("wear_rate", Dimension::wear_rate))
    static_cast<UncertainNumber&>(out.wear_rate) = std::move(*rate);
  else
    table.missing("wear_rate", row_of(Dimension::wear_rate).with_article);
  table.done();
  return out;
}

study::CleanlinessClass read_cleanliness_class(ReadContext& context, const Node& entry,
                                               const Node* base) {
  TableReader table = table_of(context, entry, "cleanliness");
  auto out = members_of<study::CleanlinessClass>(table, base);
  out.id = entry.key;
  out.title = table.maybe_text("title").value_or(entry.key);
  out.dirtier = table.maybe_text("dirtier").value_or(std::string{});
  const std::vector<std::string> known = context.entries.ids("cleanliness");
  if (!out.dirtier.empty() && std::ranges::find(known, out.dirtier) == known.end())
    table.complain("dirtier", fmt::format("there is no class \"{}\"", out.dirtier),
                   suggestion(out.dirtier, known));
  table.done();
  return out;
}

study::Fit read_fit(ReadContext& context, const Node& entry, const Node*) {
  TableReader table = table_of(context, entry, "fit");
  study::Fit out;
  out.id = entry.key;
  out.title = table.maybe_text("title").value_or(entry.key);
  out.basis = basis_of(entry);
  out.source = entry.source;
  for (TableReader& row : table.tables("bands")) {
    study::Fit::Band band = read_fit_band(row);
    if (!out.bands.empty() && !(band.above >= out.bands.back().up_to))
      row.complain("above", "the bands must follow one another in rising diameter");
    out.bands.push_back(std::move(band));
  }
  if (!table.has("bands")) table.missing("bands", "bands of diameters with their deviations");
  table.done();
  return out;
}

study::GraphiteTransition read_graphite_transition(ReadContext& context, const Node& entry,
                                                   const Node* base) {
  TableReader table = table_of(context, entry, "graphite_transition");
  auto out = members_of<study::GraphiteTransition>(table, base);
  in_order(table, "begin", out.begin, "end", out.end);
  table.done();
  return out;
}

study::LipSpeedChart read_lip_speed_chart(ReadContext& context, const Node& entry,
                                          const Node* base) {
  TableReader table = table_of(context, entry, "lip_speed_chart");
  auto out = members_of<study::LipSpeedChart>(table, base);
  in_order(table, "small_diameter", out.small_diameter, "large_diameter", out.large_diameter);
  table.done();
  return out;
}

}  // namespace ohmdrag::input

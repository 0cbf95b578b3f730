#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "input/case_reader.hpp"
#include "input/element_reader.hpp"
#include "input/material_reader.hpp"
#include "ohmdrag/study/members.hpp"

namespace ohmdrag::input {

namespace {

using Family = study::BearingType::Family;

/// Members that only the equivalent load of balls asks for need not be stated, nor those of films
/// where there are none.
study::BearingType read_roller_members(TableReader& table) {
  constexpr std::array<std::string_view, 4> of_balls{"conformity", "clearance", "static_factor",
                                                     "load_torque_exponent"};
  constexpr std::array<std::string_view, 2> of_films{"rolling_elements", "element_diameter"};
  const bool films = table.has("roller_length");
  study::BearingType out;
  study::for_each_member(out, [&](const std::string_view name, auto& member) {
    const bool needless = std::ranges::find(of_balls, name) != of_balls.end() ||
                          (!films && std::ranges::find(of_films, name) != of_films.end());
    if (!needless || table.has(name)) {
      table.into(name, member);
    } else if constexpr (std::is_base_of_v<UncertainNumber,
                                           std::remove_cvref_t<decltype(member)>>) {
      member.basis = Basis::derived;
      member.source = "has no part in what is computed of rollers";
      member.key = fmt::format("{}.{}", table.path(), name);
    }
  });
  return out;
}

void check_factors_of_family(TableReader& table, Family family) {
  if (family == Family::tapered_roller) {
    if (!table.has("axial_factor"))
      table.missing("axial_factor", "Y of the bearing's data sheet, 0.4/tan(contact angle)");
  } else if (table.has("axial_factor")) {
    table.complain("axial_factor", "only tapered rollers have one");
  }
  if (family != Family::cylindrical_roller && table.has("flange_factor"))
    table.complain("flange_factor", "only cylindrical rollers have one");
  if (family == Family::deep_groove_ball && table.has("roller_length"))
    table.complain("roller_length", "only rollers have one");
}

}  // namespace

/// The diameter lies anywhere within its tolerance class: one draw a shaft.
void CaseReader::read_fit_of(TableReader& table, study::Shaft& shaft) {
  if (!table.has("fit")) return;
  shaft.fit = table.word("fit", entry_ids({"fit"}));
  const std::optional<Node> node = entry("fit", shaft.fit);
  if (!node) return;
  const study::Fit fit = read_fit(context_, *node);
  const Length d = shaft.diameter.nominal();
  for (const study::Fit::Band& band : fit.bands) {
    if (!(d > band.above && d <= band.up_to)) continue;
    const Length middle = 0.5 * (band.lower_deviation + band.upper_deviation);
    Uncertain<Length> deviation{middle, band.basis, band.source};
    deviation.spread.shape = Shape::uniform;
    deviation.spread.half_width = 0.5 * (band.upper_deviation - band.lower_deviation).value();
    deviation.key = table.path() + ".fit";
    deviation.read_as = shaft.fit;
    shaft.deviation = std::move(deviation);
    return;
  }
  warn(fmt::format("{}: the fit {} has no band for this diameter, so the shaft is taken as nominal",
                   table.path(), shaft.fit));
}

void CaseReader::read_shafts() {
  if (!top_.has("shaft"))
    top_.complain({}, "there is no [[shaft]]; expected at least one",
                  "write [[shaft]] with id, diameter and, with a vehicle, ratio");
  for (TableReader& table : top_.tables("shaft")) {
    study::Shaft shaft;
    shaft.id = id_text(table);
    if (out_.vehicle || table.has("ratio")) {
      read_ratios(table, shaft);
    } else {
      shaft.ratio = Uncertain<double>{1.0, Basis::derived, "no vehicle"};
      shaft.ratio.key = table.path() + ".ratio";
    }
    shaft.diameter = table.number<Length>("diameter");
    shaft.bore = table.maybe_number<Length>("bore");
    read_fit_of(table, shaft);
    shaft.run_out = table.maybe_number<Length>("run_out");
    shaft.conductivity =
        table.number<ThermalConductivity>("conductivity", fallback("steel", "conductivity"));
    shaft.density = table.number<Density>("density", fallback("steel", "density"));
    shaft.specific_heat =
        table.number<SpecificHeat>("specific_heat", fallback("steel", "specific_heat"));
    shaft.oil_side_length = table.maybe_number<Length>("oil_side_length");
    shaft.dry_side_length = table.maybe_number<Length>("dry_side_length");
    shaft.dry_side_temperature = table.maybe_number<Temperature>("dry_side_temperature");
    shaft.wetted_factor =
        table.number<double>("wetted_factor", fallback("shaft_defaults", "wetted_factor"));
    shaft.free_rise =
        table.number<TemperatureDifference>("free_rise", fallback("shaft_defaults", "free_rise"));
    table.done();
    out_.shafts.push_back(std::move(shaft));
  }
}

void CaseReader::read_type(TableReader& table, study::BearingType& out) {
  const std::vector<std::string> families{"deep-groove-ball", "cylindrical-roller",
                                          "tapered-roller"};
  const auto stated_family = [&] {
    const auto place = std::ranges::find(families, table.word("type", families));
    return static_cast<Family>(place - families.begin());
  };
  if (!table.has("size")) {
    const Family family = stated_family();
    out = family == Family::deep_groove_ball ? read_bearing_members(table, nullptr)
                                             : read_roller_members(table);
    out.family = family;
    check_factors_of_family(table, family);
    return;
  }
  const std::string id = known_id(table, "size", entry_ids({"bearing_type"}), "bearing size");
  const std::optional<Node> size = entry("bearing_type", id);
  if (!size) {
    // One complaint about the size is enough; what belongs to it is known all the same.
    table.find("type");
    study::for_each_member(out, [&](const char* name, auto&) { table.find(name); });
    return;
  }
  out = read_bearing_members(table, &*size);
  out.id = id;
  out.family = read_bearing_type(context_, *size, nullptr).family;
  check_factors_of_family(table, out.family);
  if (table.has("type") && stated_family() != out.family)
    table.complain("type", fmt::format("read {}, but size {} is of another family",
                                       table.find("type")->as_typed(), id));
}

void CaseReader::read_bearings() {
  for (TableReader& table : top_.tables("bearing")) {
    study::Bearing bearing;
    bearing.id = id_text(table);
    bearing.shaft = shaft_of(table);

    read_type(table, bearing.type);
    bearing.young_modulus =
        table.number<Pressure>("young_modulus", fallback("steel", "young_modulus"));
    bearing.poisson = table.number<double>("poisson", fallback("steel", "poisson"));
    bearing.capacitance = table.maybe_number<Capacitance>("capacitance");
    read_insulation(table, bearing);
    warn_of_missing_films(bearing);

    constexpr std::array<std::string_view, 2> ways{"loads", "radial"};
    if (table.exactly_one(ways) == ways[0]) {
      TableReader loads = table.table("loads");
      for (const auto& torque : loads.numbers<Torque>("torque"))
        bearing.load_torque.push_back(torque.nominal());
      bearing.radial = loads.numbers<Force>("radial");
      bearing.axial = loads.numbers<Force>("axial");
      if (!loads.has("axial"))
        for (std::size_t i = 0; i < bearing.radial.size(); ++i) {
          bearing.axial.push_back(Uncertain<Force>{Force{}, Basis::assumed, "no axial load given"});
          bearing.axial.back().key = fmt::format("{}.axial.{}", loads.path(), i + 1);
        }
      if (bearing.load_torque.empty() || bearing.radial.size() != bearing.load_torque.size() ||
          bearing.axial.size() != bearing.load_torque.size())
        table.complain("loads", fmt::format("read {} torques, {} radial and {} axial loads; "
                                            "expected as many of each, one at least",
                                            bearing.load_torque.size(), bearing.radial.size(),
                                            bearing.axial.size()));
      for (std::size_t i = 1; i < bearing.load_torque.size(); ++i)
        if (!(bearing.load_torque[i] > bearing.load_torque[i - 1])) {
          loads.complain("torque", "the torques must rise");
          break;
        }
      loads.done();
    } else if (table.has("radial")) {
      bearing.load_torque = {Torque{}};
      bearing.radial = {table.number<Force>("radial")};
      if (table.has("axial")) {
        bearing.axial = {table.number<Force>("axial")};
      } else {
        bearing.axial = {Uncertain<Force>{Force{}, Basis::assumed, "no axial load given"}};
        bearing.axial.front().key = table.path() + ".axial";
      }
    }
    table.done();
    out_.bearings.push_back(std::move(bearing));
  }
}

}  // namespace ohmdrag::input

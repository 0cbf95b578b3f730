#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>

#include "input/case_reader.hpp"
#include "ohmdrag/study/gear_pair.hpp"
#include "ohmdrag/study/members.hpp"

namespace ohmdrag::input {

namespace {

/// What a drawing means that leaves an angle out.
Node convention(const TableReader& table, std::string_view key, long long degrees,
                std::string_view basis, std::string_view source) {
  Node node;
  node.kind = Node::Kind::integer;
  node.integer = degrees;
  node.origin = fmt::format("{}.{}", table.path(), key);
  node.basis = basis;
  node.source = source;
  return node;
}

int number_of_teeth(TableReader& table, std::string_view key) {
  constexpr long long most = 10'000;  // beyond any gear ever cut
  if (!table.has(key)) {
    table.missing(key, "a number of teeth");
    return 1;
  }
  const auto teeth = table.maybe_integer(key);
  if (teeth && (*teeth < 1 || *teeth > most))
    table.complain(key, fmt::format("read {}; expected 1 to {} teeth", *teeth, most));
  return static_cast<int>(std::clamp(teeth.value_or(1), 1LL, most));
}

study::GearElement read_gear_element(TableReader& table) {
  study::GearElement gear;
  gear.pinion_teeth = number_of_teeth(table, "pinion_teeth");
  gear.wheel_teeth = number_of_teeth(table, "wheel_teeth");
  const Node standard_rack = convention(table, "pressure_angle_deg", 20, "unverified",
                                        "standard basic rack of ISO 53, from memory");
  const Node spur =
      convention(table, "helix_angle_deg", 0, "assumed", "no helix angle given: spur gears");
  study::for_each_member(gear, [&](const std::string_view name, auto& member) {
    const Node* otherwise = name == "pressure_angle_deg" ? &standard_rack
                            : name == "helix_angle_deg"  ? &spur
                                                         : nullptr;
    table.into(name, member, otherwise);
  });
  constexpr std::array<std::string_view, 3> shifted{"pinion_tip_diameter", "wheel_tip_diameter",
                                                    "centre_distance"};
  const auto given = std::ranges::count_if(shifted, [&](auto key) { return table.has(key); });
  if (given != 0 && given != std::ssize(shifted))
    table.complain({},
                   fmt::format("read {} of {}, {} and {}; expected all three or none", given,
                               shifted[0], shifted[1], shifted[2]),
                   "without them the teeth count as unshifted, with an addendum of one module");
  return gear;
}

void check_geometry(TableReader& table, const study::GearElement& gear, const Problems& problems) {
  // What is wrong with single numbers comes first: their stand-ins make no gear.
  if (!problems.empty()) return;
  try {
    component::mesh_geometry(study::gear_pair_of(gear, study::Draw{}));
  } catch (const std::invalid_argument& error) {
    table.complain({}, error.what());
  }
}

}  // namespace

void CaseReader::read_gears() {
  const std::vector<std::string> bearings = ids_of("bearing");
  for (TableReader& table : top_.tables("gear")) {
    study::ExtraDrag gear;
    gear.id = id_text(table);
    if (std::ranges::find(bearings, gear.id) != bearings.end())
      table.complain("id", fmt::format("read \"{}\", which a [[bearing]] has already", gear.id));
    gear.shaft = shaft_of(table);
    gear.element.id = gear.id;
    gear.element.title = table.maybe_text("title").value_or(gear.id);
    const study::GearElement mesh = read_gear_element(table);
    table.done();
    check_geometry(table, mesh, context_.problems);
    gear.element.form = mesh;
    gears_.push_back(std::move(gear));
  }
}

}  // namespace ohmdrag::input

#include "study/explain_fatigue.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "ohmdrag/bearing/damage_sum.hpp"
#include "ohmdrag/bearing/rating_life.hpp"
#include "study/fatigue.hpp"

namespace ohmdrag::study {
namespace {

constexpr auto iso_281 = "ISO 281:2007";

/// Equivalent load, N.
class LoadChain {
 public:
  LoadChain(const ExplainedRolling& rolling, Chain& chain)
      : rolling_(rolling),
        model_(rolling.nominal.model.bearings[rolling.bearing]),
        entry_(rolling.nominal.world->bearings[rolling.bearing]),
        chain_(chain) {
    const energy::BearingLoads loads = model_.loads.at(rolling.torque);
    radial_ = load("Fr", loads.radial, "radial load");
    axial_ = load("Fa", loads.axial, "axial load");
  }

  std::string equivalent() {
    const auto factor = axial_factor_of(entry_.type, rolling_.nominal.draw);
    const Force found = fatigue_load(model_, factor, rolling_.torque);
    if (factor) {
      chain_.given(name("Y"), *factor, "", "axial factor of the tapered rollers",
                   {entry_.type.axial_factor->key});
      const bool counts = chain_.value(axial_) * *factor > 0.6 * chain_.value(radial_);
      return equivalent(
          counts ? fmt::format("0.4*{} + {}*{}", radial_, name("Y"), axial_) : radial_, found,
          counts ? "Fa/Fr above e = 0.6/Y: X = 0.4" : "Fa/Fr up to e = 0.6/Y: X = 1, Y = 0");
    }
    if (model_.roller) return equivalent(radial_, found, "cylindrical rollers without axial load");
    return equivalent(of_balls(), found, "X and Y of deep-groove ball bearings, Table 3");
  }

 private:
  std::string name(const std::string& what) const {
    return what + '_' + symbol_of(entry_.id) + rolling_.tail;
  }

  std::string load(const std::string& what, Force value, const char* meaning) {
    return chain_.taken(name(what), std::abs(value.value()), "N",
                        fmt::format("{} of {}", meaning, entry_.id),
                        "loads of the case, linear between its torques");
  }

  std::string of_balls() {
    const Draw& draw = rolling_.nominal.draw;
    chain_.given(name("f0"), model_.static_factor, "", "factor of ISO 76",
                 {entry_.type.static_factor.key});
    chain_.given(name("C0"), draw(entry_.type.static_rating).value(), "N", "static load rating",
                 {entry_.type.static_rating.key});
    chain_.worked(name("f0Fa_C0"), fmt::format("{}*{}/{}", name("f0"), axial_, name("C0")), "",
                  "where the table is read", iso_281);
    const bearing::EquivalentLoad table = bearing::deep_groove_equivalent_load(
        Force::from_value(chain_.value(radial_)), Force::from_value(chain_.value(axial_)),
        model_.static_rating, model_.static_factor);
    constexpr auto row = "ISO 281:2007, Table 3, linear between its columns, from public copies";
    chain_.taken(name("e"), table.limit_ratio, "",
                 "Fa/Fr up to which the axial load does not count", row);
    if (!(chain_.value(axial_) > table.limit_ratio * chain_.value(radial_))) return radial_;
    chain_.taken(name("Y"), table.axial_factor, "", "axial factor", row);
    return fmt::format("max({0}, 0.56*{0} + {1}*{2})", radial_, name("Y"), axial_);
  }

  std::string equivalent(const std::string& expression, Force found, const std::string& validity) {
    return chain_.step(name("P"), expression, found.value(), "N",
                       "dynamic equivalent load of " + entry_.id, iso_281, validity);
  }

  const ExplainedRolling& rolling_;
  const BearingModel& model_;
  const Bearing& entry_;
  Chain& chain_;
  std::string radial_, axial_;
};

}  // namespace

std::string explain_rating_life(const ExplainedRolling& rolling, Chain& chain) {
  const BearingModel& model = rolling.nominal.model.bearings[rolling.bearing];
  const Bearing& entry = rolling.nominal.world->bearings[rolling.bearing];
  const std::string load = LoadChain(rolling, chain).equivalent();
  const std::string own = '_' + symbol_of(entry.id) + rolling.tail;
  const std::string n =
      chain.taken("n" + own, std::abs(rolling.speed.value()) * 30.0 / std::numbers::pi, "1/min",
                  "speed of the shaft of " + entry.id, "the duty at that stretch");
  const std::string C = chain.given("C" + own, model.dynamic_rating.value(), "N",
                                    "dynamic load rating", {entry.type.dynamic_rating.key});
  const double exponent =
      model.roller ? bearing::roller_life_exponent : bearing::ball_life_exponent;
  const std::string p = chain.taken("p_life" + own, exponent, "", "exponent of life over load",
                                    "ISO 281: 3 of balls, 10/3 of rollers");
  const Force P = Force::from_value(chain.value(load));
  return chain.step(
      "L10" + own, fmt::format("1e6/(60*{})*({}/{})^{}", n, C, load, p),
      bearing::basic_life(model.dynamic_rating, P, exponent, rolling.speed).value() / 3600.0, "h",
      "basic rating life at that load and speed", iso_281, "P up to half of C");
}

}  // namespace ohmdrag::study

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "ohmdrag/voltage/threshold.hpp"
#include "ohmdrag/voltage/verdict.hpp"
#include "study/explain_shaft_voltage.hpp"

namespace ohmdrag::study {
namespace {

constexpr double pF = 1e-12, um = 1e-6;
constexpr auto node_source = "capacitive divider of winding, rotor and frame";

/// The shaft voltage of a variant at a point.
class VoltageChain {
 public:
  VoltageChain(const Nominal& nominal, const ElectricModel& electric, const ExplainedPlace& place,
               Chain& chain)
      : nominal_(nominal),
        electric_(electric),
        place_(place),
        state_(electric.state(place.speed, place.oil, place.torque)),
        chain_(chain) {
    state_.stresses = electric_.solved(state_);
  }

  void explain(const std::string& figure) {
    const bool needs_film = figure == "threshold_V" || figure == "discharge_rate_per_s" ||
                            figure == "dose_rate_W_per_mm2";
    if (needs_film && !state_.struck)
      throw std::invalid_argument(figure + ": nothing can be struck there, the bearings conduct");
    if (state_.conducting && figure != "edge_step_V")
      throw std::invalid_argument(
          figure + ": a bearing conducts there; what is left is the drop over touching metal");
    node();
    if (figure == "edge_step_V") return;
    if (figure == "threshold_V") return threshold();
    if (figure == "held_V") return held("held_V");
    if (figure == "edge_peak_V") return edge_peak();
    threshold();
    held("V_held");
    explain_discharges(now(), chain_);
  }

 private:
  ExplainedVoltage now() const { return {nominal_, electric_, state_, place_.oil, place_.torque}; }

  void node() {
    link_ = chain_.given("V_dc", electric_.source().dc_link().value(), "V", "link voltage",
                         {"inverter.dc_link"});
    const Coupling& coupling = *nominal_.world->coupling;
    const std::string winding =
        chain_.given("C_wr", nominal_.draw(coupling.winding_rotor).value() / pF, "pF",
                     "winding to rotor", {coupling.winding_rotor.key});
    const std::string frame = chain_.given("C_rf", nominal_.draw(coupling.rotor_frame).value() / pF,
                                           "pF", "rotor to frame", {coupling.rotor_frame.key});
    std::vector<std::string> terms{winding, frame};
    for (const voltage::DischargePath& path : state_.paths)
      terms.push_back(chain_.taken("C_of_" + symbol_of(path.id),
                                   voltage::capacitance(path).value() / pF, "pF",
                                   "from the shaft through this way to the frame",
                                   "films under the rolling elements at this speed, load and oil, "
                                   "with what stands beside and behind them"));
    chain_.sum("C_T", terms, state_.node.total.value() / pF, "pF", "all that hangs on the shaft");
    const double ratio = voltage::bearing_voltage_ratio(state_.node);
    chain_.step("BVR", fmt::format("{}/C_T", winding), ratio, "", "bearing voltage ratio",
                node_source);
    const double step = electric_.source().dc_link().value() / 3.0;
    chain_.step("dV", fmt::format("{}/3", link_), step, "V",
                "step of the common mode as one leg "
                "switches",
                "two-level inverter");
    chain_.step("edge_step_V", "BVR*dV", ratio * step, "V", "on the shaft without any path",
                node_source);
  }

  void threshold() {
    const voltage::DischargePath& path = state_.paths[*state_.struck];
    const double drawn = path.threshold.drawn.value();
    std::string film = "V_film";
    if (*state_.struck < state_.films.size()) {
      explain_bearing_film(now(), state_.places[*state_.struck], state_.films[*state_.struck],
                           chain_);
      const DischargeConstants& constants = nominal_.world->discharge;
      chain_.given("E_bd", nominal_.draw(constants.breakdown_field).value() * um, "V/um",
                   "breakdown field of the film", {constants.breakdown_field.key});
      const double x = std::clamp((state_.films[*state_.struck].film_ratio - 1.0) / 2.0, 0.0, 1.0);
      chain_.step("x_film", "min(1, max(0, (film_ratio - 1)/2))", x, "",
                  "between boundary and full film", "bounds 1 and 3, from memory");
      chain_.step("s_film", "x_film^2*(3 - 2*x_film)", x * x * (3.0 - 2.0 * x), "",
                  "share of its strength that is left", "assumed form");
      chain_.step(film, "2*E_bd*h_min*s_film", drawn, "V", "threshold of the two films in series",
                  "derived: equal films share the voltage", "film ratio above 1");
    } else {
      chain_.taken(film, drawn, "V", fmt::format("threshold of {}", path.id), "film of the way");
    }
    const double share = voltage::share_on_film(path);
    if (share == 1.0) {
      chain_.step("threshold_V", film, drawn, "V", "threshold as a voltage of the shaft",
                  "nothing stands in series with the film");
      return;
    }
    chain_.taken("share_film", share, "", "share of the shaft voltage that stands on the film",
                 "capacitive divider with what stands in series");
    chain_.step("threshold_V", film + "/share_film", drawn / share, "V",
                "threshold as a voltage of the shaft", "capacitive divider");
  }

  void held(const std::string& symbol) {
    const double held = state_.stresses.held.voltage.value();
    const double half =
        voltage::bearing_voltage_ratio(state_.node) * electric_.source().dc_link().value() / 2.0;
    if (!electric_.path(state_.speed) && std::abs(held - half) < 1e-9 * half)
      chain_.step(symbol, fmt::format("BVR*{}/2", link_), held, "V",
                  "stands on the shaft until the next edge", "without a path nothing decays");
    else if (symbol == "held_V")
      chain_.taken(symbol, std::round(held * 1e6) * 1e-6, "V",
                   "stands on the shaft until the next edge",
                   "periodic response of the shaft node with its path to all edges of the source, "
                   "to the microvolt");
    else
      chain_.taken(symbol, held, "V", "stands on the shaft until the next edge",
                   "periodic response of the shaft node with its path to all edges of the source");
  }

  void edge_peak() {
    const int legs = state_.verdict_legs;
    chain_.taken("V_leg", state_.stresses.edge(1).voltage.value(), "V",
                 "highest on the shaft after an edge of one leg",
                 "response of the shaft node with its path to a ramp and its ringing");
    chain_.taken("legs", legs, "", "legs that switch together in the edge of the verdict",
                 "2, or 3 below a modulation of 0.02");
    chain_.step("edge_peak_V", "legs*V_leg", state_.verdict_edge().voltage.value(), "V",
                "highest on the shaft after the edge of the verdict", "the shaft is linear");
  }

  const Nominal& nominal_;
  const ElectricModel& electric_;
  ExplainedPlace place_;
  ElectricState state_;
  Chain& chain_;
  std::string link_;
};

}  // namespace

void explain_voltage(const Ensemble& ensemble, std::size_t v, std::size_t p,
                     const std::string& figure, Chain& chain) {
  const Nominal nominal(ensemble, v);
  const ElectricModel electric(nominal.model, nominal.variant, nominal.draw);
  const OperatingPoint& point = nominal.world->points[p];
  const std::size_t shaft = electric.shaft();
  explain_voltage_at(
      nominal, electric,
      {nominal.model.speeds(point, nominal.draw)[shaft], nominal.draw(point.oil_temperature),
       nominal.model.torques(point, nominal.draw)[shaft]},
      figure, chain);
}

void explain_voltage_at(const Nominal& nominal, const ElectricModel& electric,
                        const ExplainedPlace& place, const std::string& figure, Chain& chain) {
  VoltageChain(nominal, electric, place, chain).explain(figure);
}

}  // namespace ohmdrag::study

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "ohmdrag/voltage/threshold.hpp"
#include "ohmdrag/voltage/verdict.hpp"
#include "study/electric.hpp"
#include "study/explain_parts.hpp"

namespace ohmdrag::study {
namespace {

constexpr double pF = 1e-12, um = 1e-6, ns = 1e-9, mm2 = 1e-6;
constexpr auto node_source = "capacitive divider of winding, rotor and frame";
constexpr auto edge_source =
    "derived: share of the fundamental period in which two of three sines "
    "differ by less than a rise time";
constexpr auto strike_source = "assumed form, see the threshold of the voltage room";

/// The shaft voltage of a variant at a point.
class VoltageChain {
 public:
  VoltageChain(const Ensemble& ensemble, std::size_t v, std::size_t p, Chain& chain)
      : nominal_(ensemble, v),
        point_(nominal_.world->points[p]),
        electric_(nominal_.model, nominal_.variant, nominal_.draw),
        chain_(chain) {
    const auto speeds = nominal_.model.speeds(point_, nominal_.draw);
    const auto torques = nominal_.model.torques(point_, nominal_.draw);
    state_ = electric_.state(speeds[electric_.shaft()], nominal_.draw(point_.oil_temperature),
                             torques[electric_.shaft()]);
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
    discharges();
  }

 private:
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
      const bearing::FilmState& here = state_.films[*state_.struck];
      const DischargeConstants& constants = nominal_.world->discharge;
      chain_.given("E_bd", nominal_.draw(constants.breakdown_field).value() * um, "V/um",
                   "breakdown field of the film", {constants.breakdown_field.key});
      chain_.taken("h_min", here.minimum_inner.value() / um, "um",
                   fmt::format("least film at the inner ring of {}", path.id),
                   "Hamrock and Dowson at this speed, load and oil");
      chain_.taken("film_ratio", here.film_ratio, "", "film over combined roughness",
                   "definition, with discharge.roughness");
      const double x = std::clamp((here.film_ratio - 1.0) / 2.0, 0.0, 1.0);
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

  /// Rates of edges by legs; their symbols.
  std::vector<std::string> edge_rates(const voltage::EdgeRates& edges) {
    const voltage::InverterSource& source = electric_.source().source();
    const double f = source.carrier.value();
    const bool plain =
        electric_.source().measured_edges().empty() && source.rise == source.fall && state_.turning;
    std::vector<std::string> symbols{"N_edges_1", "N_edges_2", "N_edges_3"};
    const std::array rates{edges.one_leg.value(), edges.two_legs.value(), edges.three_legs.value()};
    if (!plain) {
      for (std::size_t k = 0; k < symbols.size(); ++k)
        chain_.taken(symbols[k], rates[k], "1/s", "edges a second of so many legs",
                     "record of the source, or rise and fall apart");
      return symbols;
    }
    chain_.given("f_sw", f, "Hz", "switching frequency", {"inverter.switching_frequency"});
    if (rates[2] > 0.0) {
      chain_.step(symbols[2], "2*f_sw", rates[2], "1/s", "edges of all three legs together",
                  "modulation below 0.02, or pairs need more edges than there are");
      return {symbols[2]};
    }
    chain_.taken("M", state_.modulation, "", "modulation index at this speed",
                 "linear between the rows of the case");
    chain_.given("t_rise", source.rise.value() / ns, "ns", "rise from 0 to 100 %",
                 {"inverter.rise_time_10_90", "inverter.rise_time_0_100", "inverter.rise_time"});
    const double meeting =
        std::min(1.0, 4.0 * source.rise.value() * f / (std::numbers::sqrt3 * state_.modulation));
    const double pairs = 6.0 / std::numbers::pi * std::asin(meeting);
    chain_.step("pairs", "6/pi*asin(min(1, 4*t_rise*1e-9*f_sw/(sqrt(3)*M)))", pairs, "",
                "pairs of legs that meet in half a carrier period", edge_source);
    chain_.step(symbols[0], "(6 - 4*pairs)*f_sw", rates[0], "1/s", "edges of one leg", edge_source);
    chain_.step(symbols[1], "2*pairs*f_sw", rates[1], "1/s", "edges of two legs", edge_source);
    return {symbols[0], symbols[1]};
  }

  /// Probability of a strike by a stress.
  std::string probability(const std::string& tail, const std::string& volts, double V,
                          Time duration) {
    const double t0 = nominal_.draw(nominal_.world->discharge.pulse_credit).value();
    chain_.given("t0", t0 / ns, "ns", "credit for short pulses", {"discharge.pulse_credit"});
    const double width = nominal_.draw(nominal_.world->discharge.edge_width);
    chain_.given("width", width, "", "spread of the strikes over the threshold",
                 {"discharge.edge_width"});
    chain_.taken("t_" + tail, duration.value() / ns, "ns", "how long it stands",
                 "response of the shaft node");
    const double factor = voltage::pulse_credit(Time::from_value(t0), duration).factor;
    chain_.step("credit_" + tail, fmt::format("min(3, 1 + sqrt(t0/t_{}))", tail), factor, "",
                "how much more the film holds for so short", strike_source);
    const double threshold = chain_.value("threshold_V");
    const double p = voltage::edge_probability(Voltage::from_value(V),
                                               Voltage::from_value(threshold * factor), width);
    return chain_.step(
        "p_" + tail,
        fmt::format("1 - exp(-(max(0, {}/(threshold_V*credit_{}) - 1)/width)^2)", volts, tail), p,
        "", "probability that it strikes", strike_source);
  }

  void discharges() {
    const voltage::DischargePath& path = state_.paths[*state_.struck];
    const auto edges = electric_.source().rates(state_.speed);
    const std::string p_held =
        probability("held", "V_held", chain_.value("V_held"), state_.stresses.held.duration);
    struct Way {
      const char* id;
      voltage::Stress stress;
    };
    std::vector<Way> ways{{"rise", state_.stresses.rising}, {"fall", state_.stresses.falling}};
    const bool alike = ways[0].stress.voltage == ways[1].stress.voltage &&
                       ways[0].stress.duration == ways[1].stress.duration;
    if (alike) ways = {{"edge", state_.stresses.rising}};
    capacitance(path);
    std::vector<std::string> rates, powers;
    double rate = 0.0, power = 0.0;
    for (const std::string& count : edge_rates(edges)) {
      const int legs = count.back() - '0';
      for (const Way& way : ways) {
        const auto [N, W] = of_class(count, legs, way.id, way.stress, p_held, alike ? 1.0 : 0.5);
        rates.push_back("N_" + class_tail(way.id, legs));
        powers.push_back(fmt::format("N_{0}*W_{0}", class_tail(way.id, legs)));
        rate += N;
        power += N * W;
      }
    }
    chain_.sum("discharge_rate_per_s", rates, rate, "1/s", "discharges a second");
    if (!path.area) return;
    chain_.taken("A", path.area->value() / mm2, "mm2", "loaded contacts at the inner ring",
                 "Hertz at this load");
    std::string sum;
    for (const std::string& term : powers) sum += (sum.empty() ? "" : " + ") + term;
    chain_.step("dose_rate_W_per_mm2", fmt::format("({})*1e-9/A", sum),
                power * 1e-9 / (path.area->value() / mm2), "W/mm2",
                "discharge power over contact area", "definition");
  }

  static std::string class_tail(const std::string& way, int legs) {
    return fmt::format("{}_{}", way, legs);
  }

  void capacitance(const voltage::DischargePath& path) {
    const double all = state_.node.total.value() / pF,
                 whole = voltage::capacitance(path).value() / pF, film = path.film.value() / pF;
    chain_.taken("C_film", film, "pF", "the film that breaks down, with what lies parallel to it",
                 "films under the rolling elements");
    const std::string rest = fmt::format("(C_T - C_of_{})", symbol_of(path.id));
    if (!path.in_series) {
      chain_.step("C_dis", fmt::format("C_film + {}", rest), film + all - whole, "pF",
                  "what is discharged", "derived");
      return;
    }
    const double series = path.in_series->value() / pF;
    chain_.taken("C_s", series, "pF", "what stands in series with the film", "the case");
    const double share = voltage::share_on_film(path);
    const double discharged = film + series * (all - whole) / (series + all - whole);
    chain_.step("C_dis", fmt::format("share_film^2*(C_film + C_s*{0}/(C_s + {0}))", rest),
                share * share * discharged, "pF", "what is discharged, for the shaft voltage",
                "derived");
  }

  /// Rate in 1/s and energy in nJ of one class of edges.
  std::pair<double, double> of_class(const std::string& count, int legs, const std::string& way,
                                     const voltage::Stress& one, const std::string& p_held,
                                     double share) {
    const std::string tail = class_tail(way, legs);
    const std::string leg = chain_.taken("V_" + way, one.voltage.value(), "V",
                                         "highest on the shaft after an edge of one leg",
                                         "response of the shaft node to the edge");
    const double V = legs * one.voltage.value();
    const std::string volts = chain_.step("V_" + tail, fmt::format("{}*{}", legs, leg), V, "V",
                                          "of so many legs together", "the shaft is linear");
    const std::string p_edge = probability(tail, volts, V, one.duration);
    const bool by_edge = chain_.value(p_edge) >= chain_.value(p_held);
    const std::string at_symbol = by_edge ? volts : "V_held";
    const double threshold = chain_.value("threshold_V");
    const double at = std::min(chain_.value(at_symbol), threshold);
    chain_.step("at_" + tail, fmt::format("min({}, threshold_V)", at_symbol), at, "V",
                "voltage at which it discharges", "the film gives way at its threshold");
    const double rate =
        share * chain_.value(count) * std::max(chain_.value(p_edge), chain_.value(p_held));
    chain_.step("N_" + tail,
                fmt::format("{}{}*max({}, {})", share == 1.0 ? "" : "0.5*", count, p_edge, p_held),
                rate, "1/s", "discharges a second of this kind",
                "each edge discharges at most once");
    const double energy = 0.5 * chain_.value("C_dis") * at * at * 1e-3;
    chain_.step("W_" + tail, fmt::format("0.5*C_dis*at_{}^2*1e-3", tail), energy, "nJ",
                "energy of one", "charge of a capacitor");
    return {rate, energy};
  }

  Nominal nominal_;
  const OperatingPoint& point_;
  ElectricModel electric_;
  ElectricState state_;
  Chain& chain_;
  std::string link_;
};

}  // namespace

void explain_voltage(const Ensemble& ensemble, std::size_t v, std::size_t p,
                     const std::string& figure, Chain& chain) {
  VoltageChain(ensemble, v, p, chain).explain(figure);
}

}  // namespace ohmdrag::study

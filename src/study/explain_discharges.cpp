#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "ohmdrag/voltage/verdict.hpp"
#include "study/explain_shaft_voltage.hpp"

namespace ohmdrag::study {
namespace {

constexpr double pF = 1e-12, ns = 1e-9, mm2 = 1e-6;
constexpr auto edge_source =
    "derived: share of the fundamental period in which two of three sines "
    "differ by less than a rise time";
constexpr auto strike_source = "assumed form, see the threshold of the voltage room";

/// Discharges a second, out of threshold, held voltage and edges.
class DischargeChain {
 public:
  DischargeChain(const ExplainedVoltage& now, Chain& chain) : now_(now), chain_(chain) {}

  void explain() { discharges(); }

 private:
  /// Rates of edges by legs; their symbols.
  std::vector<std::string> edge_rates(const voltage::EdgeRates& edges) {
    const voltage::InverterSource& source = now_.electric.source().source();
    const double f = source.carrier.value();
    const bool plain = now_.electric.source().measured_edges().empty() &&
                       source.rise == source.fall && now_.state.turning;
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
    chain_.taken("M", now_.state.modulation, "", "modulation index at this speed",
                 "linear between the rows of the case");
    chain_.given("t_rise", source.rise.value() / ns, "ns", "rise from 0 to 100 %",
                 {"inverter.rise_time_10_90", "inverter.rise_time_0_100", "inverter.rise_time"});
    const double meeting = std::min(
        1.0, 4.0 * source.rise.value() * f / (std::numbers::sqrt3 * now_.state.modulation));
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
    const double t0 = now_.nominal.draw(now_.nominal.world->discharge.pulse_credit).value();
    chain_.given("t0", t0 / ns, "ns", "credit for short pulses", {"discharge.pulse_credit"});
    const double width = now_.nominal.draw(now_.nominal.world->discharge.edge_width);
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
    const voltage::DischargePath& path = now_.state.paths[*now_.state.struck];
    const auto edges = now_.electric.source().rates(now_.state.speed);
    const std::string p_held =
        probability("held", "V_held", chain_.value("V_held"), now_.state.stresses.held.duration);
    struct Way {
      const char* id;
      voltage::Stress stress;
    };
    std::vector<Way> ways{{"rise", now_.state.stresses.rising},
                          {"fall", now_.state.stresses.falling}};
    const bool alike = ways[0].stress.voltage == ways[1].stress.voltage &&
                       ways[0].stress.duration == ways[1].stress.duration;
    if (alike) ways = {{"edge", now_.state.stresses.rising}};
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
    const double all = now_.state.node.total.value() / pF,
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

  const ExplainedVoltage& now_;
  Chain& chain_;
};

}  // namespace

void explain_discharges(const ExplainedVoltage& now, Chain& chain) {
  DischargeChain(now, chain).explain();
}

}  // namespace ohmdrag::study

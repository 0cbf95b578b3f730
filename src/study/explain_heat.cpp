#include "study/explain_heat.hpp"

#include <fmt/format.h>

#include "component/shaft_nodes.hpp"
#include "ohmdrag/contact/shaft_heat.hpp"
#include "study/explain_film_coefficient.hpp"

namespace ohmdrag::study {
namespace {

constexpr auto fins = "one-dimensional fin; Incropera and DeWitt, from memory";
constexpr auto balance = "derived: heat balance of the node";
constexpr auto elimination = "balance of the nodes, by elimination";

/// a + b + …
struct Terms {
  std::string text;
  void add(const std::string& term) { text += (text.empty() ? "" : " + ") + term; }
};

class HeatChain {
 public:
  HeatChain(const ExplainedRunning& running, std::size_t shaft, const ExplainedShaft& symbols,
            const component::ThermalNetwork& network, Chain& chain)
      : running_(running),
        system_(running.unit.shafts[shaft]),
        nodes_(component::shaft_nodes(system_)),
        symbols_(symbols),
        network_(network),
        chain_(chain) {
    const energy::Running& now = running.now;
    oil_ = chain_.taken("theta_oil" + symbols.tail, in_celsius(now.oil), "degC", "oil in the sump",
                        "the place, or the course of the duty");
    dry_ = chain_.taken("theta_dry" + symbols.own(), in_celsius(now.dry[shaft]), "degC",
                        "air around the dry side", "shaft." + symbols.id + ".dry_side_temperature");
  }

  ExplainedHeat explain() {
    sides();
    for (std::size_t i = 0; i < system_.contacts.size(); ++i) seat(i);
    for (std::size_t n = 0; n < count(); ++n) node(n);
    eliminate();
    solve("y", "theta_node", "degC", source_, 0, "node without friction");
    ExplainedHeat heat;
    heat.rise.resize(system_.contacts.size());
    for (std::size_t j = 0; j < system_.contacts.size(); ++j) rise(j, heat);
    for (std::size_t i = 0; i < system_.contacts.size(); ++i) heat.idle.push_back(idle(i, heat));
    return heat;
  }

 private:
  std::size_t count() const { return nodes_.position_m.size(); }
  std::string own(const std::string& what) const { return what + symbols_.own(); }
  std::string at(const std::string& what, std::size_t n) const {
    return fmt::format("{}_{}{}", what, n + 1, symbols_.own());
  }
  std::string of(const std::string& what, std::size_t i) const {
    return what + '_' + symbol_of(system_.contacts[i].id) + symbols_.tail;
  }

  /// Films, fins and both ends.
  void sides() {
    conductivity_ =
        chain_.given(own("k"), system_.conductivity.value(), "W/(m*K)", "conductivity of the shaft",
                     {"shaft." + symbols_.id + ".conductivity"});
    if (system_.bore.value() > 0.0) {
      const std::string bore = chain_.given(own("bore"), system_.bore.value(), "m", "bore",
                                            {"shaft." + symbols_.id + ".bore"});
      hollow_ = fmt::format("*(1 - ({}/{})^2)", bore, symbols_.diameter);
    }
    const ExplainedSide wet{running_, system_, symbols_, oil_, true},
        dry{running_, system_, symbols_, dry_, false};
    side("oil", explain_film_coefficient(wet, network_.oil_film(), chain_));
    side("dry", explain_film_coefficient(dry, network_.dry_film(), chain_));
    const double seal = system_.wet_until.value();
    std::string to_oil = own("g_oil"), to_dry = own("g_dry");
    if (system_.oil_side_length) {
      const std::string x = decays(
          "oil_end", nodes_.position_m.front() - seal + system_.oil_side_length->value(), "oil");
      to_oil += fmt::format("*(1 + exp(-2*{0}))/(1 - exp(-2*{0}))", x);
    }
    if (system_.dry_side_length) {
      const std::string x = decays(
          "dry_end", seal + system_.dry_side_length->value() - nodes_.position_m.back(), "dry");
      to_dry += fmt::format("*(1 - exp(-2*{0}))/(1 + exp(-2*{0}))", x);
    }
    chain_.worked(own("G_oil_end"), to_oil, "W/K", "last node to the end at oil temperature",
                  "fin with a held end, or an endless one");
    chain_.worked(own("G_dry_end"), to_dry, "W/K", "last node to the dry side",
                  "fin with a free end, or an endless one");
    for (std::size_t n = 0; n + 1 < count(); ++n) {
      const std::string where = nodes_.wet(n) ? "oil" : "dry";
      const std::string x = decays(fmt::format("rod_{}", n + 1),
                                   nodes_.position_m[n + 1] - nodes_.position_m[n], where);
      const std::string t = chain_.worked(
          at("t", n), fmt::format("(1 - exp(-{0}))/(1 + exp(-{0}))", x), "",
          "hyperbolic tangent of half the rod's length over its decay length", "definition");
      chain_.worked(at("G", n), fmt::format("{0}*(1 - {1}^2)/(2*{1})", own("g_" + where), t), "W/K",
                    "node to the next one", fins);
      chain_.worked(at("Gs", n), fmt::format("{}*{}", own("g_" + where), t), "W/K",
                    "each of both to what is around the rod", fins);
    }
  }

  void side(const std::string& where, const std::string& film) {
    chain_.worked(own("g_" + where),
                  fmt::format("pi*{0}/2*sqrt({1}*{2}*{0}{3})", symbols_.diameter, film,
                              conductivity_, hollow_),
                  "W/K", "endless shaft on that side", fins);
    chain_.worked(
        own("x_" + where),
        fmt::format("sqrt({}*{}{}/(4*{}))", conductivity_, symbols_.diameter, hollow_, film), "m",
        "length over which the temperature falls by e", fins);
  }

  /// A length over the decay length of its side.
  std::string decays(const std::string& what, double length_m, const std::string& where) {
    const std::string length =
        chain_.taken(own("L_" + what), length_m, "m", "length of that piece of the shaft",
                     "places of seal, contacts and ends");
    return chain_.worked(own("n_" + what), fmt::format("{}/{}", length, own("x_" + where)), "",
                         "that in decay lengths", "definition");
  }

  /// Band of a contact, and the body behind it.
  void seat(std::size_t i) {
    const component::ShaftContact& c = system_.contacts[i];
    const std::string width =
        chain_.taken(of("band", i), c.contact_width.value(), "m", "width of the band of heat",
                     "contact width of the part");
    const std::string radius = fmt::format("({}/2)", symbols_.diameter);
    std::string bracket = fmt::format("ln({0}/{1}) + 0.032 - 0.3*{1}/{0}", radius, width);
    if (!hollow_.empty()) {
      const std::string wall =
          chain_.worked(own("wall"), fmt::format("({} - {})/2", symbols_.diameter, own("bore")),
                        "m", "wall of the hollow shaft", "definition");
      bracket =
          fmt::format("ln({2}/{1}) + 0.355 - 0.146*({2}/{0})^2 - 0.177*({2}/{0})^4 - 0.3*{1}/{0}",
                      radius, width, wall);
    }
    const auto band = contact::band_resistance(system_.diameter, c.contact_width,
                                               system_.conductivity, system_.bore);
    chain_.step(of("Rband", i), fmt::format("({})/(2*pi^2*{}*{})", bracket, conductivity_, radius),
                band.value(), "K/W", "band over the shaft under it",
                "derived: fit of a Fourier integral", "width up to 0.2 of the radius or wall");
    if (c.to_body) body(i, width);
    chain_.worked(of("into", i),
                  c.to_body ? fmt::format("{0}/({0} + {1})", of("Rbody", i), of("Rband", i)) : "1",
                  "", "share of the watts that enters the shaft", "divider of band and body");
  }

  void body(std::size_t i, const std::string& width) {
    const component::ShaftContact& c = system_.contacts[i];
    const auto taken = [&] {
      chain_.taken(of("Rbody", i), c.to_body->value(), "K/W", "contact to its body",
                   "holder of the brush, or as stated");
    };
    for (const PartInfo& part : running_.variant.parts) {
      if (part.id != c.id || !part.element) continue;
      const auto* lip = std::get_if<LipElement>(&part.element->form);
      const auto* ring = std::get_if<RingElement>(&part.element->form);
      if (!lip && !ring) return taken();
      const auto& reach = lip ? lip->body_reach : ring->body_reach;
      const auto& k = lip ? lip->body_conductivity : ring->body_conductivity;
      const auto model =
          contact::body_resistance(system_.diameter, c.contact_width, reach.nominal(), k.nominal());
      if (model != *c.to_body) return taken();
      chain_.given(of("reach", i), reach.mid(), "m", "how far into the body the heat goes",
                   {reach.key});
      chain_.given(of("kbody", i), k.mid(), "W/(m*K)", "conductivity of the body", {k.key});
      chain_.step(of("Rbody", i),
                  fmt::format("(ln({}/{}) + 1.5)/(pi*{}*pi*{})", of("reach", i), width,
                              of("kbody", i), symbols_.diameter),
                  c.to_body->value(), "K/W", "contact to its body",
                  "derived: strip on a half-space");
      return;
    }
    taken();
  }

  /// All conductances of a node, and what flows to it from what is around.
  void node(std::size_t n) {
    Terms all, from;
    const auto add = [&](const std::string& conductance, const std::string& temperature) {
      all.add(conductance);
      from.add(fmt::format("{}*{}", conductance, temperature));
    };
    if (n == 0) add(own("G_oil_end"), oil_);
    if (n + 1 == count()) add(own("G_dry_end"), dry_);
    std::vector<std::size_t> rods;
    if (n > 0) rods.push_back(n - 1);
    if (n + 1 < count()) rods.push_back(n);
    for (const std::size_t rod : rods) {
      all.add(at("G", rod));
      add(at("Gs", rod), nodes_.wet(rod) ? oil_ : dry_);
    }
    for (std::size_t i = 0; i < system_.contacts.size(); ++i)
      if (nodes_.of_contact[i] == n && system_.contacts[i].to_body)
        add(fmt::format("1/({} + {})", of("Rband", i), of("Rbody", i)), body_temperature(i));
    chain_.worked(at("D", n), all.text, "W/K", "all that leads away from the node", balance);
    source_.push_back(chain_.worked(at("s", n), from.text, "W",
                                    "what these bring, with temperatures in degC", balance));
  }

  std::string body_temperature(std::size_t i) const {
    return system_.contacts[i].body_in_oil ? oil_ : dry_;
  }

  void eliminate() {
    for (std::size_t n = 0; n < count(); ++n)
      chain_.worked(at("p", n),
                    n == 0
                        ? at("D", n)
                        : fmt::format("{} - {}^2/{}", at("D", n), at("G", n - 1), at("p", n - 1)),
                    "W/K", "what is left of it once the nodes before are gone", elimination);
  }

  /// Temperatures of all nodes under sources, which are none before `first`.
  void solve(const std::string& swept, const std::string& found, const std::string& unit,
             const std::vector<std::string>& sources, std::size_t first, const std::string& what) {
    for (std::size_t n = first; n < count(); ++n)
      chain_.worked(at(swept, n),
                    n == first ? sources[n]
                               : fmt::format("{} + {}/{}*{}", sources[n], at("G", n - 1),
                                             at("p", n - 1), at(swept, n - 1)),
                    unit == "degC" ? "W" : "", "sources, those of the nodes before included",
                    elimination);
    for (std::size_t n = count(); n-- > 0;) {
      const std::string own_part = n >= first ? at(swept, n) : "0";
      chain_.worked(at(found, n),
                    n + 1 == count() ? fmt::format("{}/{}", own_part, at("p", n))
                                     : fmt::format("({} + {}*{})/{}", own_part, at("G", n),
                                                   at(found, n + 1), at("p", n)),
                    unit, what, elimination);
    }
  }

  /// What a watt in one contact does to all.
  void rise(std::size_t j, ExplainedHeat& heat) {
    const std::string id = symbol_of(system_.contacts[j].id);
    const std::size_t node = nodes_.of_contact[j];
    std::vector<std::string> sources(count(), "0");
    sources[node] = of("into", j);
    solve("y_" + id, "rise_" + id, "K/W", sources, node, "node per watt in " + id);
    for (std::size_t i = 0; i < system_.contacts.size(); ++i) {
      std::string expression =
          fmt::format("{}*{}", of("into", i), at("rise_" + id, nodes_.of_contact[i]));
      if (i == j)
        expression += system_.contacts[j].to_body
                          ? fmt::format(" + 1/(1/{} + 1/{})", of("Rband", j), of("Rbody", j))
                          : " + " + of("Rband", j);
      heat.rise[i].push_back(chain_.step(
          fmt::format("R_{}_{}{}", symbol_of(system_.contacts[i].id), id, symbols_.tail),
          expression, network_.resistance(i, j).value(), "K/W",
          "rise of the first per watt in the second",
          "derived: superposition in a linear heat flow"));
    }
  }

  std::string idle(std::size_t i, const ExplainedHeat& heat) {
    std::string expression =
        fmt::format("{0}*{1} + (1 - {0})*{2}", of("into", i),
                    at("theta_node", nodes_.of_contact[i]), body_temperature(i));
    for (std::size_t j = 0; j < system_.contacts.size(); ++j) {
      const double current = system_.contacts[j].current_heat.value();
      if (current == 0.0) continue;
      chain_.taken(of("Pcur", j), current, "W", "heat of the current through the contact",
                   "current of the path");
      expression += fmt::format(" + {}*{}", heat.rise[i][j], of("Pcur", j));
    }
    return chain_.step(of("theta_idle", i), expression, in_celsius(network_.idle(i)), "degC",
                       "the contact without any friction", balance);
  }

  const ExplainedRunning& running_;
  const component::ShaftSystem& system_;
  component::ShaftNodes nodes_;
  const ExplainedShaft& symbols_;
  const component::ThermalNetwork& network_;
  Chain& chain_;
  std::string oil_, dry_, conductivity_;
  std::string hollow_;  ///< factor of the conducting section; empty: solid
  std::vector<std::string> source_;
};

}  // namespace

ExplainedHeat explain_heat(const ExplainedRunning& running, std::size_t shaft,
                           const ExplainedShaft& symbols, const component::ThermalNetwork& network,
                           Chain& chain) {
  return HeatChain(running, shaft, symbols, network, chain).explain();
}

}  // namespace ohmdrag::study

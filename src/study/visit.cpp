#include "ohmdrag/study/visit.hpp"

#include <optional>
#include <type_traits>
#include <variant>
#include <vector>

#include "ohmdrag/study/contact_members.hpp"

namespace ohmdrag::study {

namespace {

/// Walks const and non-const structs alike; V takes the matching reference to UncertainNumber.
template <class V>
class Walk {
 public:
  explicit Walk(const V& visit) : visit_(visit) {}

  template <class N>
  requires std::is_base_of_v<UncertainNumber, N>
  void operator()(N& number) const { visit_(number); }
  template <class T>
  void operator()(std::optional<T>& maybe) const {
    if (maybe) (*this)(*maybe);
  }
  template <class T>
  void operator()(const std::optional<T>& maybe) const {
    if (maybe) (*this)(*maybe);
  }
  template <class T>
  void operator()(std::vector<T>& list) const {
    for (T& item : list) (*this)(item);
  }
  template <class T>
  void operator()(const std::vector<T>& list) const {
    for (const T& item : list) (*this)(item);
  }
  /// For for_each_member, which hands the name over too.
  template <class T>
  void operator()(const char*, T& member) const {
    (*this)(member);
  }

  template <Of<ElementResistance> S>
  void operator()(S& r) const {
    for_each_member(r, *this);
    // Only those that are stated have a value.
    if (r.at_line_force.mid() > 0.0) (*this)(r.at_line_force);
    if (r.at_force.mid() > 0.0) (*this)(r.at_force);
    if (r.at_diameter.mid() > 0.0) (*this)(r.at_diameter);
    (*this)(r.running);
  }
  template <Of<Element> S>
  void operator()(S& element) const {
    std::visit(
        [this](auto& form) {
          for_each_member(form, *this);
          if constexpr (requires { form.law; })
            std::visit([this](auto& law) { for_each_member(law, *this); }, form.law);
          if constexpr (requires { form.resistance; }) (*this)(form.resistance);
          if constexpr (requires { form.fibres; }) (*this)(form.fibres);
          if constexpr (requires { form.oil; }) (*this)(form.oil);
          if constexpr (requires { form.service; })
            std::visit([this](auto& service) { (*this)(service); }, form.service);
        },
        element.form);
    // Limits that it takes by name stay at their nominal values.
    for_each_member(element.limits, *this);
    (*this)(element.flash);
  }
  template <Of<std::monostate> S>
  void operator()(S&) const {}
  template <Of<WearEntry> S>
  void operator()(S& wear) const {
    (*this)(wear.contact.wear_rate);
    if (wear.shaft) (*this)(wear.shaft->wear_rate);
    (*this)(wear.density);
  }
  template <Of<LipService> S>
  void operator()(S& lip) const {
    for_each_member(lip.form, *this);
    for_each_member(lip.relaxation, *this);
    for_each_member(lip.modulus, *this);
    (*this)(lip.wear);
  }
  template <Of<PadService> S>
  void operator()(S& pad) const {
    for_each_member(pad, *this);
    if (pad.modulus) for_each_member(*pad.modulus, *this);
    (*this)(pad.wear);
  }
  template <class S>
  requires(Of<S, FibreEntry> || Of<S, OilEntry> || Of<S, FlashEntry> ||
           Of<S, ElementResistance::Running>) void
  operator()(S& s) const {
    for_each_member(s, *this);
  }
  template <class S>
  requires(Of<S, Lubricant> || Of<S, BearingType> || Of<S, DischargeConstants>) void operator()(
      S& s) const {
    for_each_member(s, *this);
  }

  template <Of<Vehicle> S>
  void operator()(S& v) const {
    for_each_member(v, *this);
    if (v.by_mass)
      all(v.by_mass->rolling, v.by_mass->drag_area, v.by_mass->air_density);
    else
      all(v.f0, v.f1, v.f2);
    all(v.mean_efficiency, v.load_independent_share, v.recuperation_efficiency,
        v.recuperation_share, v.gear_efficiency);
  }
  template <Of<Sump> S>
  void operator()(S& s) const {
    all(s.lubricant, s.heat_capacity, s.conductance, s.ambient, s.other_heat, s.cleanliness);
    if (s.air) all(s.air->added, s.air->at, s.air->exponent);
  }
  template <Of<OilCleanliness> S>
  void operator()(S& c) const {
    for_each_member(c.usual, *this);
    if (c.with_debris) for_each_member(*c.with_debris, *this);
    (*this)(c.within_class);
  }
  template <Of<Shaft> S>
  void operator()(S& s) const {
    all(s.ratio, s.diameter, s.deviation, s.run_out, s.conductivity, s.density, s.specific_heat,
        s.oil_side_length, s.dry_side_length, s.dry_side_temperature, s.wetted_factor, s.free_rise,
        s.bore, s.higher_gears);
  }
  template <Of<Shaft::Gear> S>
  void operator()(S& gear) const {
    all(gear.ratio, gear.shift_up);
  }
  template <Of<LoadStep> S>
  void operator()(S& step) const {
    all(step.time, step.shaft_speed, step.torque, step.oil_temperature);
  }
  template <Of<Duty::Soak> S>
  void operator()(S& soak) const {
    (*this)(soak.time);
  }
  template <Of<Inverter> S>
  void operator()(S& i) const {
    all(i.dc_link, i.switching_frequency, i.rise_time, i.fall_time, i.blocked_at_standstill);
    if (i.ringing) all(i.ringing->frequency, i.ringing->share_of_step, i.ringing->quality);
  }
  template <Of<Coupling> S>
  void operator()(S& c) const {
    all(c.winding_rotor, c.rotor_frame);
  }
  template <Of<Bearing> S>
  void operator()(S& b) const {
    all(b.type, b.young_modulus, b.poisson, b.radial, b.axial, b.capacitance);
    std::visit([this](auto& insulation) { (*this)(insulation); }, b.insulation);
  }
  template <class S>
  requires(Of<S, Coating> || Of<S, StatedInsulation> || Of<S, CeramicElements>) void operator()(
      S& s) const {
    for_each_member(s, *this);
  }
  template <Of<PathToFrame> S>
  void operator()(S& path) const {
    for_each_member(path, *this);
    if (path.gear) for_each_member(*path.gear, *this);
  }
  template <Of<OperatingPoint> S>
  void operator()(S& p) const {
    all(p.road_speed, p.shaft_speed, p.oil_temperature, p.torque, p.running_time);
  }
  template <Of<Duty> S>
  void operator()(S& d) const {
    all(d.shaft_speed, d.torque, d.hours_per_year, d.start_temperature, d.oil_temperature, d.soaks,
        d.load_steps);
  }
  template <Of<Requirement> S>
  void operator()(S& r) const {
    all(r.max, r.min);
  }
  template <Of<Allocation> S>
  void operator()(S& a) const {
    (*this)(a.max);
  }
  template <Of<Target> S>
  void operator()(S& t) const {
    (*this)(t.max);
  }
  template <Of<Split> S>
  void operator()(S& split) const {
    (*this)(split.total);
  }
  template <Of<DamageLaw> S>
  void operator()(S& law) const {
    switch (law.kind) {
      case LawKind::dose:
        return (*this)(law.after);
      case LawKind::current_density:
        return for_each_current_density_member(law, *this);
      case LawKind::relative:
        return all(law.baseline_life, law.power);
    }
  }
  template <Of<Variant> S>
  void operator()(S& v) const {
    if (v.seal)
      all(v.seal->element, v.seal->position, v.seal->line_force, v.seal->over_pressure,
          v.seal->available_width, v.seal->replaced_every);
    if (v.grounding) {
      auto& g = *v.grounding;
      all(g.element, g.position, g.line_force, g.total_radial_force, g.split_shaft_reading,
          g.interference, g.resistance, g.current, g.available_width, g.replaced_every);
      if (g.film) all(g.film->resistance, g.film->capacitance);
      (*this)(g.parallel_capacitance);
      if (g.impedance) (*this)(g.impedance->factor);
      if (auto* stated = std::get_if<StatedPath>(&g.path)) (*this)(stated->inductance);
    }
    for (auto& extra : v.extras) all(extra.element, extra.position, extra.line_force);
  }
  template <Of<Case> S>
  void operator()(S& c) const {
    // The first hours move nothing unless a point runs in them.
    for (const auto& point : c.points)
      if (point.running_time) {
        all(c.running_in.excess, c.running_in.time);
        break;
      }
    all(c.service.distance, c.service.years, c.service.hours, c.vehicle, c.sump, c.shafts,
        c.inverter, c.coupling, c.discharge, c.rated_power, c.bearings, c.paths_to_frame, c.points,
        c.duties, c.requirements, c.allocations, c.targets, c.splits, c.laws, c.variants);
  }

 private:
  template <class... T>
  void all(T&... things) const {
    ((*this)(things), ...);
  }

  const V& visit_;
};

using Look = std::function<void(const UncertainNumber&)>;
using Change = std::function<void(UncertainNumber&)>;

}  // namespace

void for_each_number(Case& question, const Change& visit) { Walk<Change>{visit}(question); }

void for_each_number(const Case& question, const Look& visit) {
  Walk<Look>{visit}(question);
  for (const Variant& variant : question.variants)
    if (variant.world) for_each_number(*variant.world, visit);
}

void for_each_number(const Lubricant& lubricant, const Look& visit) {
  Walk<Look>{visit}(lubricant);
}
void for_each_number(const Element& element, const Look& visit) { Walk<Look>{visit}(element); }
void for_each_number(const BearingType& type, const Look& visit) { Walk<Look>{visit}(type); }
void for_each_number(const DischargeConstants& constants, const Look& visit) {
  Walk<Look>{visit}(constants);
}
void for_each_number(const DamageLaw& law, const Look& visit) { Walk<Look>{visit}(law); }
void for_each_number(const Variant& variant, const Look& visit) { Walk<Look>{visit}(variant); }

}  // namespace ohmdrag::study

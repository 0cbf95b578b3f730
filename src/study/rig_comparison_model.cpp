#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "ohmdrag/study/element_parts.hpp"
#include "study/ensemble.hpp"
#include "study/grounding_path.hpp"
#include "study/rig_comparison.hpp"

namespace ohmdrag::study {
namespace {

/// What a spindle holds begins so far before the first element: far below any length that counts.
constexpr double spindle_face_m = 1e-4;

[[noreturn]] void refuse(const std::string& why) { throw std::invalid_argument(why); }

/// A number of another dimension that is proportional to one that was read, with its draws.
template <class Q>
Uncertain<Q> proportional(const UncertainNumber& to, double factor) {
  Uncertain<Q> out;
  const Dimension dimension = out.dimension;
  static_cast<UncertainNumber&>(out) = to;
  out.dimension = dimension;
  for (Distribution* part : {&out.spread, &out.scatter}) {
    const bool factors = part->shape == Shape::log_normal;
    if (!(part == &out.scatter && factors)) part->mid *= factor;
    if (!factors) part->half_width *= factor;
  }
  out.spread.floor *= factor;
  out.spread.ceiling *= factor;
  return out;
}

/// The grounding element with the force that the application gives it, on any shaft.
ExtraDrag grounding_on_rig(const Grounding& grounding, Length diameter) {
  ExtraDrag extra;
  extra.element = grounding.element;
  auto* brush = std::get_if<BrushElement>(&extra.element.form);
  auto* ring = std::get_if<RingElement>(&extra.element.form);
  if (grounding.line_force) extra.line_force = grounding.line_force;
  if (grounding.total_radial_force) {
    if (brush) {
      brush->force = *grounding.total_radial_force;
      brush->fibres.reset();
    } else {
      extra.line_force = proportional<LineForce>(*grounding.total_radial_force,
                                                 1.0 / (std::numbers::pi * diameter.value()));
    }
  }
  if (grounding.split_shaft_reading)
    extra.line_force =
        proportional<LineForce>(*grounding.split_shaft_reading, 1.0 / diameter.value());
  if (grounding.interference) {
    if (brush && brush->fibres) brush->fibres->interference = *grounding.interference;
    if (ring && ring->fibres) ring->fibres->interference = *grounding.interference;
  }
  return extra;
}

const Shaft& shaft_named(const Case& world, const std::string& id) {
  return *std::ranges::find(world.shafts, id, &Shaft::id);
}

std::string shaft_of(const Variant& variant, const std::string& contact) {
  if (contact == "seal") return variant.seal->shaft;
  if (contact == "grounding") return variant.grounding->shaft;
  return std::ranges::find(variant.extras, contact, &ExtraDrag::id)->shaft;
}

ExtraDrag on_rig(const RigElement& element, const Case& world, const Variant& variant) {
  ExtraDrag extra;
  if (element.of == "seal") {
    extra.element = variant.seal->element;
    extra.line_force = variant.seal->line_force;
  } else if (element.of == "grounding") {
    extra = grounding_on_rig(*variant.grounding,
                             shaft_named(world, variant.grounding->shaft).diameter.nominal());
  } else {
    extra = *std::ranges::find(variant.extras, element.of, &ExtraDrag::id);
  }
  if (element.line_force) extra.line_force = element.line_force;
  extra.id = element.id;
  extra.shaft = "rig";
  return extra;
}

Shaft rig_shaft(const RigSetUp& rig, const Shaft& of_application, Length held_until) {
  Shaft shaft = of_application;  // of the same steel, wetted alike
  shaft.id = "rig";
  shaft.ratio = Uncertain<double>(1.0);
  shaft.higher_gears.clear();
  shaft.diameter = rig.diameter;
  shaft.bore = rig.bore;
  shaft.fit.clear();
  shaft.deviation.reset();
  shaft.run_out.reset();
  shaft.oil_side_length = Uncertain<Length>(held_until);
  shaft.dry_side_length = Uncertain<Length>(rig.length.nominal() - held_until);
  shaft.dry_side_temperature = rig.air ? *rig.air : rig.enclosure->room;
  return shaft;
}

bool is_contact(const Element& element) {
  return std::holds_alternative<LipElement>(element.form) ||
         std::holds_alternative<RingElement>(element.form) ||
         std::holds_alternative<BrushElement>(element.form);
}

bool wants_oil(const Element& element) {
  const auto* lip = std::get_if<LipElement>(&element.form);
  const auto* ring = std::get_if<RingElement>(&element.form);
  return (lip && std::holds_alternative<MixedFilmEntry>(lip->law)) || (ring && ring->oil);
}

void require_elements(const RigComparison& run, const Variant& variant) {
  const Element* contact = contact_element(variant, run.contact);
  if (!contact || !is_contact(*contact))
    refuse(fmt::format("contact: variant {} has no contact \"{}\"", variant.id, run.contact));
  if (std::ranges::find(run.rig.elements, run.contact, &RigElement::of) == run.rig.elements.end())
    refuse(fmt::format("rig: none of its elements is the contact {}", run.contact));
  for (const RigElement& element : run.rig.elements) {
    const Element* of = contact_element(variant, element.of);
    if (!of || !is_contact(*of))
      refuse(fmt::format("rig element {}: variant {} has no contact \"{}\"", element.id, variant.id,
                         element.of));
    if (wants_oil(*of) && !run.rig.wet_until)
      refuse(
          fmt::format("rig element {}: {} runs in oil, and the rig has none; write "
                      "oil_temperature and wet_until",
                      element.id, of->id));
    if (element.line_force && std::holds_alternative<BrushElement>(of->form))
      refuse(
          fmt::format("rig element {}: a brush is pressed by a total force; a line force has no "
                      "effect",
                      element.id));
    const double at_m = element.position.nominal().value();
    if (!(at_m > spindle_face_m && at_m < run.rig.length.nominal().value()))
      refuse(fmt::format("rig element {}: stands beside the shaft, which is {:.4g} mm long",
                         element.id, 1e3 * run.rig.length.nominal().value()));
  }
}

/// Where every draw of the rig stands, at a speed and air that rig_state finds.
rig::RigBench bench_of(const RigComparison& run, const component::ShaftSystem& shaft,
                       const Draw& draw) {
  rig::RigBench bench{shaft, draw(run.rig.held), {}};
  if (run.rig.air) {
    bench.air = rig::MeasuredAir{draw(*run.rig.air)};
  } else {
    const auto& enclosure = *run.rig.enclosure;
    bench.air = rig::EnclosedAir{draw(enclosure.room), draw(enclosure.conductance),
                                 enclosure.other_heat ? draw(*enclosure.other_heat) : Power{}};
  }
  return bench;
}

}  // namespace

const Element* contact_element(const Variant& variant, const std::string& contact) {
  if (contact == "seal") return variant.seal ? &variant.seal->element : nullptr;
  if (contact == "grounding") return variant.grounding ? &variant.grounding->element : nullptr;
  const auto extra = std::ranges::find(variant.extras, contact, &ExtraDrag::id);
  return extra == variant.extras.end() ? nullptr : &extra->element;
}

RigWorld rig_world(const RigComparison& run, const Case& world, const Variant& variant) {
  require_elements(run, variant);
  const Length held_until =
      run.rig.wet_until ? run.rig.wet_until->nominal() : Length::from_value(spindle_face_m);
  if (!(held_until.value() > 0.0 && held_until < run.rig.length.nominal()))
    refuse("rig: wet_until lies beside the shaft");
  RigWorld out;
  out.world.sump = world.sump;
  out.world.discharge = world.discharge;
  out.world.running_in = world.running_in;
  out.world.shafts = {
      rig_shaft(run.rig, shaft_named(world, shaft_of(variant, run.contact)), held_until)};
  out.variant.id = "rig";
  for (const RigElement& element : run.rig.elements) {
    ExtraDrag extra = on_rig(element, world, variant);
    // The model counts from where oil or spindle end.
    extra.position = Uncertain<Length>(element.position.nominal() - held_until);
    out.variant.extras.push_back(std::move(extra));
  }
  out.world.variants = {out.variant};
  return out;
}

RigPair::RigPair(const RigComparison& run, const Case& world, const Variant& variant,
                 const RigWorld& on_rig, const Draw& draw)
    : element_(contact_element(variant, run.contact)),
      bench_(bench_of(run,
                      VariantModel(WorldModel(on_rig.world, draw), on_rig.variant, draw, {})
                          .unit.shafts.front(),
                      draw)),
      application_(bench_.shaft) {
  const WorldModel model(world, draw);
  const std::size_t s = model.shaft_index(shaft_of(variant, run.contact));
  application_ = VariantModel(model, variant, draw, {}).unit.shafts[s];
  const auto here =
      std::ranges::find(application_.contacts, run.contact, &component::ShaftContact::id);
  contact_ = static_cast<std::size_t>(here - application_.contacts.begin());
  around_ = {draw(run.oil), model.dry[s]};
  for (std::size_t i = 0; i < bench_.shaft.contacts.size(); ++i)
    if (std::ranges::find(run.rig.elements, bench_.shaft.contacts[i].id, &RigElement::id)->of ==
        run.contact)
      of_contact_.push_back(i);

  const bool stated =
      run.contact == "grounding" && (variant.grounding->resistance || variant.grounding->impedance);
  const ElementResistance* entry = resistance_of(*element_);
  if (!entry || stated) return;
  if (!wants_oil(*element_)) law_ = resistance_law(*entry, draw);
  if (entry->running) running_ = running_law(*entry->running, draw);
}

const component::ShaftContact& RigPair::rig_contact() const {
  return bench_.shaft.contacts[of_contact_.front()];
}

Pressure RigPair::pressure_on_rig() const {
  return rig_contact().line_force / rig_contact().contact_width;
}
Pressure RigPair::pressure() const { return contact().line_force / contact().contact_width; }

double RigPair::force_factor(const RigPoint& point) const {
  const double on_rig =
      component::force_share(rig_contact(), {bench_.held, Temperature::from_value(point.air_K)});
  const double here = component::force_share(contact(), around_);
  if (std::holds_alternative<BrushElement>(element_->form))
    return (contact::brush_resistance(*law_, on_rig * rig_contact().load).value /
            contact::brush_resistance(*law_, here * contact().load).value)
        .value();
  return (contact::ring_resistance(*law_, on_rig * rig_contact().line_force, bench_.shaft.diameter)
              .value /
          contact::ring_resistance(*law_, here * contact().line_force, application_.diameter).value)
      .value();
}

RigPoint RigPair::at(AngularVelocity rig_speed) const {
  RigPoint point{.by_temperature = {},
                 .by_force_and_diameter = {},
                 .state = rig::rig_state(bench_, rig_speed)};
  const Speed sliding = rim_speed(rig_speed, rig_radius());
  point.sliding_m_s = sliding.value();
  point.air_K = point.state.air.value();
  for (const std::size_t i : of_contact_)
    point.rig_K = std::max(point.rig_K, point.state.shaft.contacts[i].contact.value());
  const auto state =
      component::solve(application_, turning_speed(sliding, 0.5 * application_.diameter), around_);
  point.application_K = state.contacts[contact_].contact.value();
  if (running_)
    point.by_temperature =
        contact::running_factor(*running_, Temperature::from_value(point.rig_K), sliding) /
        contact::running_factor(*running_, state.contacts[contact_].contact, sliding);
  if (law_ && contact().line_force.value() > 0.0) point.by_force_and_diameter = force_factor(point);
  return point;
}

}  // namespace ohmdrag::study

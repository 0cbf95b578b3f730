#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <utility>

#include "component/shaft_nodes.hpp"
#include "component/wide_shaft_rows.hpp"
#include "ohmdrag/component/wide_shaft.hpp"
#include "ohmdrag/contact/convection_kernel.hpp"
#include "ohmdrag/contact/friction_kernel.hpp"
#include "ohmdrag/numerics/lane_math.hpp"

namespace ohmdrag::component {

using numerics::LaneRoom;
using numerics::lanes;
using numerics::LaneSpan;

namespace {

bool turning(const contact::Convection& law) {
  return std::holds_alternative<contact::TurningCylinder>(law);
}

/// (psi k/d)^3, by which Nu^3 becomes h^3.
double cube_scale(double wetted_factor, double conductivity_W_mK, double diameter_m) {
  const double scale = wetted_factor * conductivity_W_mK / diameter_m;
  return scale * scale * scale;
}

double cube(HeatTransferCoefficient film) { return film.value() * film.value() * film.value(); }

bool same_shape(const ShaftSystem& a, const ShaftSystem& b) {
  if (a.contacts.size() != b.contacts.size() ||
      a.oil_side_length.has_value() != b.oil_side_length.has_value() ||
      a.dry_side_length.has_value() != b.dry_side_length.has_value() ||
      turning(a.oil_side) != turning(b.oil_side) || turning(a.dry_side) != turning(b.dry_side))
    return false;
  const ShaftNodes nodes_a = shaft_nodes(a), nodes_b = shaft_nodes(b);
  if (nodes_a.of_contact != nodes_b.of_contact || nodes_a.seal != nodes_b.seal ||
      nodes_a.position_m.size() != nodes_b.position_m.size())
    return false;
  for (std::size_t c = 0; c < a.contacts.size(); ++c) {
    const ShaftContact& x = a.contacts[c];
    const ShaftContact& y = b.contacts[c];
    const auto points = [](const ShaftContact& s) {
      return s.softening ? s.softening->modulus.size() : std::size_t{0};
    };
    if (x.law.index() != y.law.index() || x.body_in_oil != y.body_in_oil || points(x) != points(y))
      return false;
  }
  return true;
}

}  // namespace

WideShaft::WideShaft(std::vector<ShaftSystem> shafts, numerics::LaneWidth width)
    : shafts_(std::move(shafts)), width_(width) {
  if (shafts_.empty() || shafts_.size() > lanes)
    throw std::invalid_argument("wide shaft: a block holds at least one shaft and one a lane");
  const ShaftSystem& first = shafts_.front();
  const Temperature room = from_celsius(20.0);
  for (const ShaftSystem& shaft : shafts_) {
    const ThermalNetwork refuses_what_a_single_shaft_refuses(shaft, {}, {room, room});
    if (!same_shape(first, shaft))
      throw std::invalid_argument("wide shaft: the shafts of a block must be of one shape");
  }
  const ShaftNodes nodes = shaft_nodes(first);
  nodes_ = nodes.position_m.size();
  wet_rods_ = nodes.seal;
  oil_end_held_ = first.oil_side_length.has_value();
  dry_end_free_ = first.dry_side_length.has_value();
  oil_turning_ = turning(first.oil_side);
  const auto points_of = [](const ShaftContact& contact) {
    return contact.softening ? contact.softening->modulus.size() : std::size_t{0};
  };
  std::size_t rows = shaft_row::count + nodes_ - 1 + dry_row::count;
  for (const ShaftContact& contact : first.contacts)
    rows += contact_row::count + 2 * points_of(contact);
  of_shafts_ = LaneRoom(rows);
  shaft_ = of_shafts_.take(shaft_row::count);
  rods_m_ = of_shafts_.take(nodes_ - 1);
  dry_ = of_shafts_.take(dry_row::count);
  for (std::size_t c = 0; c < first.contacts.size(); ++c) {
    const ShaftContact& contact = first.contacts[c];
    const Law law = std::holds_alternative<contact::MixedFilm>(contact.law)          ? Law::film
                    : std::holds_alternative<contact::ConstantFriction>(contact.law) ? Law::constant
                                                                                     : Law::ptfe;
    contacts_.push_back({.law = law,
                         .node = nodes.of_contact[c],
                         .body_in_oil = contact.body_in_oil,
                         .softening_points = points_of(contact),
                         .values = of_shafts_.take(contact_row::count),
                         .softening = of_shafts_.take(2 * points_of(contact))});
    if (law == Law::film) films_.push_back(c);
  }
  for (std::size_t lane = 0; lane < shafts_.size(); ++lane) read(lane);
  repeat_last();
}

void WideShaft::repeat_last() {
  const std::size_t last = shafts_.size() - 1;
  const auto repeat = [&](const LaneSpan& rows) {
    for (std::size_t row = 0; row < rows.rows(); ++row) {
      const double value = rows[row][last];
      std::fill(rows[row] + last, rows[row] + lanes, value);
    }
  };
  repeat(shaft_);
  repeat(rods_m_);
  for (const Contact& contact : contacts_) {
    repeat(contact.values);
    repeat(contact.softening);
  }
}

void WideShaft::read(std::size_t lane) {
  const ShaftSystem& shaft = system(lane);
  const double d = shaft.diameter.value();
  const double bore_share = shaft.bore.value() / d;
  const double kd = shaft.conductivity.value() * d * (1.0 - bore_share * bore_share);
  const auto put = [&](std::size_t row, double value) { shaft_[row][lane] = value; };
  put(shaft_row::diameter, d);
  put(shaft_row::half_diameter, 0.5 * d);
  put(shaft_row::fin, 0.5 * std::numbers::pi * d * std::sqrt(kd));
  put(shaft_row::per_m, 2.0 / std::sqrt(kd));

  const ShaftNodes nodes = shaft_nodes(shaft);
  const double seal_m = shaft.wet_until.value();
  if (shaft.oil_side_length)
    put(shaft_row::oil_end, nodes.position_m.front() - (seal_m - shaft.oil_side_length->value()));
  if (shaft.dry_side_length)
    put(shaft_row::dry_end, seal_m + shaft.dry_side_length->value() - nodes.position_m.back());
  for (std::size_t rod = 0; rod + 1 < nodes_; ++rod)
    rods_m_[rod][lane] = nodes.position_m[rod + 1] - nodes.position_m[rod];

  const material::OilConstants oil = material::oil_constants(shaft.lubricant);
  put(shaft_row::log_k, oil.log_k);
  put(shaft_row::walther_b, oil.b);
  put(shaft_row::constant, oil.constant);
  put(shaft_row::density, oil.density_kg_m3);
  put(shaft_row::alpha, oil.alpha_per_K);
  put(shaft_row::log_eta_factor, oil.log_eta_factor);
  put(shaft_row::prandtl_per_nu_rho,
      shaft.lubricant.specific_heat.value() / shaft.lubricant.conductivity.value());
  if (const auto* cylinder = std::get_if<contact::TurningCylinder>(&shaft.oil_side)) {
    put(shaft_row::oil_rise, cylinder->free_rise.value());
    put(shaft_row::oil_cube_scale,
        cube_scale(cylinder->wetted_factor, shaft.lubricant.conductivity.value(), d));
  } else {
    put(shaft_row::oil_cube_scale, cube(std::get<contact::FixedFilm>(shaft.oil_side).coefficient));
  }

  for (std::size_t c = 0; c < contacts_.size(); ++c) {
    const ShaftContact& from = shaft.contacts[c];
    Contact& to = contacts_[c];
    const auto value = [&](std::size_t row, double number) { to.values[row][lane] = number; };
    const double into_shaft_W_K = 1.0 / contact::band_resistance(shaft.diameter, from.contact_width,
                                                                 shaft.conductivity, shaft.bore)
                                            .value();
    const double body_W_K = from.to_body ? 1.0 / from.to_body->value() : 0.0;
    value(contact_row::into_shaft, into_shaft_W_K / (into_shaft_W_K + body_W_K));
    value(contact_row::body, body_W_K);
    value(contact_row::shaft, into_shaft_W_K);
    value(contact_row::per_both, 1.0 / (into_shaft_W_K + body_W_K));
    value(contact_row::current, from.current_heat.value());
    value(contact_row::load, from.load.value());
    if (const auto* film = std::get_if<contact::MixedFilm>(&from.law)) {
      const contact::MixedFilmConstants law = contact::mixed_film_constants(*film);
      value(contact_row::law, law.boundary_friction);
      value(contact_row::law + 1, law.film_factor);
      value(contact_row::law + 2, law.log_transition);
      value(contact_row::law + 3, law.load_share_exponent);
      value(contact_row::law + 4, std::log(0.5 * d / from.line_force.value()));
    } else if (const auto* constant = std::get_if<contact::ConstantFriction>(&from.law)) {
      value(contact_row::law, constant->coefficient);
    } else {
      const auto& dry = std::get<contact::PtfeContact>(from.law);
      const contact::PtfeConstants law = contact::ptfe_constants(dry.friction);
      value(contact_row::law, law.slow_coefficient);
      value(contact_row::law + 1, law.middle_coefficient);
      value(contact_row::law + 2, law.fast_coefficient);
      value(contact_row::law + 3, law.filled_factor);
      value(contact_row::law + 4, law.least_pressure_Pa);
      value(contact_row::law + 5, (from.line_force / dry.contact_width).value());
    }
    if (!from.softening) continue;
    value(contact_row::elastic_share, from.softening->elastic_share);
    for (std::size_t p = 0; p < to.softening_points; ++p) {
      to.softening[p][lane] = from.softening->modulus[p].temperature.value();
      to.softening[to.softening_points + p][lane] = from.softening->modulus[p].ratio;
    }
  }
}

void WideShaft::set_dry(const double* dry_K) {
  for (std::size_t i = 0; i < lanes; ++i) {
    if (i >= shafts_.size() && dry_K[i] == dry_K[i - 1]) {
      for (std::size_t row = 0; row < dry_row::count; ++row) dry_[row][i] = dry_[row][i - 1];
      continue;
    }
    const ShaftSystem& shaft = system(i);
    const Temperature dry = Temperature::from_value(dry_K[i]);
    dry_[dry_row::dry][i] = dry_K[i];
    const auto* cylinder = std::get_if<contact::TurningCylinder>(&shaft.dry_side);
    if (!cylinder) {
      dry_[dry_row::at_rest][i] = cube(std::get<contact::FixedFilm>(shaft.dry_side).coefficient);
      dry_[dry_row::turning][i] = 0.0;
      continue;
    }
    const contact::FluidState air = contact::air_state(dry);
    const double d = shaft.diameter.value();
    const contact::NusseltCubes cubes = contact::nusselt_cubes<numerics::LibraryMath>(
        d, cylinder->free_rise.value(), air.viscosity.value(), air.prandtl, air.expansion_per_K);
    const double scale = cube_scale(cylinder->wetted_factor, air.conductivity.value(), d);
    dry_[dry_row::at_rest][i] = scale * cubes.free;
    dry_[dry_row::turning][i] = scale * cubes.turning_s2;
  }
}

}  // namespace ohmdrag::component

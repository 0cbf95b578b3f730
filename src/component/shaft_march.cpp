#include "ohmdrag/component/shaft_march.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <utility>

#include "component/film_contact.hpp"
#include "component/rod.hpp"

namespace ohmdrag::component {

namespace {

// Cells. Half a millimetre resolves the first second of steel; each next one is larger by this
// factor.
constexpr double first_cell_m = 0.5e-3;
constexpr double growth = 1.3;
constexpr std::size_t least_cells = 4;
// An endless side is cut after as many decay lengths: exp(-4.6) = 1 %.
constexpr double kept_decay_lengths = 4.6;
// Nodes closer than this are one: far below the width of a contact, and far enough apart for the
// fastest mode not to drown the slowest in rounding.
constexpr double same_place_m = 5e-6;

// Widths of the cells of a length, growing from its first end.
std::vector<double> growing_cells(double length_m, std::size_t least) {
  std::vector<double> cells;
  double width_m = first_cell_m;
  double sum_m = 0.0;
  while (sum_m < length_m || cells.size() < least) {
    cells.push_back(width_m);
    sum_m += width_m;
    width_m *= growth;
  }
  for (double& cell : cells) cell *= length_m / sum_m;
  return cells;
}

// Nodes behind the front end that fill the shaft around the fixed ones, which are sorted and far
// enough apart.
std::vector<double> cell_nodes(const std::vector<double>& fixed_m, double front_m, double back_m) {
  std::vector<double> nodes_m;
  if (fixed_m.front() - front_m > same_place_m) {
    const auto cells = growing_cells(fixed_m.front() - front_m, least_cells);
    double at_m = front_m;
    for (std::size_t c = cells.size(); c-- > 1;) nodes_m.push_back(at_m += cells[c]);
  }
  for (std::size_t i = 0; i < fixed_m.size(); ++i) {
    nodes_m.push_back(fixed_m[i]);
    if (i + 1 == fixed_m.size()) break;
    const double gap_m = fixed_m[i + 1] - fixed_m[i];
    if (gap_m <= first_cell_m) continue;
    const auto half = growing_cells(0.5 * gap_m, 1);
    double at_m = fixed_m[i];
    for (const double cell : half) nodes_m.push_back(at_m += cell);
    for (std::size_t c = half.size(); c-- > 1;) nodes_m.push_back(at_m += half[c]);
  }
  if (back_m - fixed_m.back() > same_place_m) {
    double at_m = fixed_m.back();
    for (const double cell : growing_cells(back_m - fixed_m.back(), least_cells))
      nodes_m.push_back(at_m += cell);
  }
  return nodes_m;
}

std::size_t nearest_node(const std::vector<double>& nodes_m, double position_m) {
  std::size_t best = 0;
  for (std::size_t n = 1; n < nodes_m.size(); ++n)
    if (std::abs(nodes_m[n] - position_m) < std::abs(nodes_m[best] - position_m)) best = n;
  return best;
}

// (1 - exp(-x)) / x: mean of a decay over a step, relative to its start.
double mean_decay(double x) { return x > 0.0 ? -std::expm1(-x) / x : 1.0; }

// (1 - mean_decay(x)) / x, without cancellation.
double mean_rise(double x) {
  return x < 1e-3 ? 0.5 - x / 6.0 + x * x / 24.0 : (1.0 - mean_decay(x)) / x;
}

Eigen::Index index(std::size_t n) { return static_cast<Eigen::Index>(n); }

}  // namespace

ShaftMarch::ShaftMarch(ShaftSystem system, const ShaftStore& store, Temperature start)
    : system_(std::move(system)) {
  if (!(store.density.value() > 0.0 && store.specific_heat.value() > 0.0))
    throw std::invalid_argument("shaft: density and specific heat must be positive");
  // Refuses what the steady shaft refuses.
  const ThermalNetwork steady(system_, AngularVelocity{}, {start, start});

  const double seal_m = system_.wet_until.value();
  std::vector<double> fixed_m{seal_m};
  for (const ShaftContact& c : system_.contacts) fixed_m.push_back(c.position.value());
  std::sort(fixed_m.begin(), fixed_m.end());
  fixed_m.erase(std::unique(fixed_m.begin(), fixed_m.end(),
                            [](double kept, double next) { return next - kept <= same_place_m; }),
                fixed_m.end());

  const auto endless_m = [&](const contact::Convection& law, const contact::FluidState& fluid) {
    const HeatTransferCoefficient at_rest =
        contact::film_coefficient(law, system_.diameter, AngularVelocity{}, fluid);
    return kept_decay_lengths *
           contact::decay_length({system_.diameter, system_.conductivity, at_rest, system_.bore})
               .value();
  };
  front_m_ = system_.oil_side_length
                 ? seal_m - system_.oil_side_length->value()
                 : fixed_m.front() -
                       endless_m(system_.oil_side, contact::oil_state(system_.lubricant, start));
  const double back_m =
      system_.dry_side_length
          ? seal_m + system_.dry_side_length->value()
          : fixed_m.back() + endless_m(system_.dry_side, contact::air_state(start));
  if (!system_.oil_side_length) node_m_.push_back(front_m_);
  for (const double node : cell_nodes(fixed_m, front_m_, back_m)) node_m_.push_back(node);
  seal_node_ = nearest_node(node_m_, seal_m);

  // Half of every cell at either node; what a held end stores is not the shaft's.
  const double d = system_.diameter.value();
  const double bore = system_.bore.value();
  const double per_m_J_K = store.density.value() * store.specific_heat.value() * 0.25 *
                           std::numbers::pi * (d * d - bore * bore);
  capacity_J_K_.assign(node_m_.size(), 0.0);
  capacity_J_K_.front() += 0.5 * per_m_J_K * (node_m_.front() - front_m_);
  for (std::size_t n = 0; n + 1 < node_m_.size(); ++n)
    for (const std::size_t m : {n, n + 1})
      capacity_J_K_[m] += 0.5 * per_m_J_K * (node_m_[n + 1] - node_m_[n]);

  for (const ShaftContact& c : system_.contacts) {
    const double shaft = 1.0 / contact::band_resistance(system_.diameter, c.contact_width,
                                                        system_.conductivity, system_.bore)
                                   .value();
    const double body = c.to_body ? 1.0 / c.to_body->value() : 0.0;
    seats_.push_back({.node = nearest_node(node_m_, c.position.value()),
                      .body_W_K = body,
                      .shaft_W_K = shaft,
                      .into_shaft = shaft / (shaft + body),
                      .body_in_oil = c.body_in_oil,
                      .current_W = c.current_heat.value()});
  }
  node_K_.assign(node_m_.size(), start.value());
  contact_K_.assign(seats_.size(), start.value());
  power_W_.assign(seats_.size(), 0.0);
}

ShaftMarch::Modes ShaftMarch::modes(HeatTransferCoefficient oil_film,
                                    HeatTransferCoefficient dry_film) const {
  const contact::ShaftFin oil_fin{system_.diameter, system_.conductivity, oil_film, system_.bore};
  const contact::ShaftFin dry_fin{system_.diameter, system_.conductivity, dry_film, system_.bore};
  const double oil_fin_W_K = contact::endless_fin(oil_fin).value();
  const double dry_fin_W_K = contact::endless_fin(dry_fin).value();
  const double oil_decay_m = contact::decay_length(oil_fin).value();
  const double dry_decay_m = contact::decay_length(dry_fin).value();

  const std::size_t nodes = node_m_.size();
  Modes found{.oil_film = oil_film,
              .dry_film = dry_film,
              .to_oil_W_K = std::vector<double>(nodes, 0.0),
              .to_dry_W_K = std::vector<double>(nodes, 0.0),
              .rate_per_s = {},
              .shape = {}};
  if (system_.oil_side_length) {
    const auto [through, to_side] =
        rod_conductance(oil_fin_W_K, oil_decay_m, node_m_.front() - front_m_);
    found.to_oil_W_K.front() += through + to_side;
  } else {
    found.to_oil_W_K.front() += oil_fin_W_K;
  }
  if (!system_.dry_side_length) found.to_dry_W_K.back() += dry_fin_W_K;

  Eigen::VectorXd diagonal = Eigen::VectorXd::Zero(index(nodes));
  Eigen::VectorXd beside(index(nodes) - 1);
  for (std::size_t n = 0; n + 1 < nodes; ++n) {
    const bool wet = n < seal_node_;
    const auto [through, to_side] =
        rod_conductance(wet ? oil_fin_W_K : dry_fin_W_K, wet ? oil_decay_m : dry_decay_m,
                        node_m_[n + 1] - node_m_[n]);
    for (const std::size_t m : {n, n + 1}) {
      diagonal[index(m)] += through;
      (wet ? found.to_oil_W_K : found.to_dry_W_K)[m] += to_side;
    }
    beside[index(n)] = -through / std::sqrt(capacity_J_K_[n] * capacity_J_K_[n + 1]);
  }
  for (const Seat& seat : seats_) diagonal[index(seat.node)] += seat.into_shaft * seat.body_W_K;
  for (std::size_t n = 0; n < nodes; ++n)
    diagonal[index(n)] =
        (diagonal[index(n)] + found.to_oil_W_K[n] + found.to_dry_W_K[n]) / capacity_J_K_[n];

  Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver;
  solver.computeFromTridiagonal(diagonal, beside);
  if (solver.info() != Eigen::Success)
    throw std::runtime_error("shaft: the modes of the shaft were not found");
  const Eigen::VectorXd& rates = solver.eigenvalues();
  found.rate_per_s.assign(rates.data(), rates.data() + rates.size());
  Eigen::MatrixXd shape = solver.eigenvectors();
  for (std::size_t n = 0; n < nodes; ++n) shape.row(index(n)) /= std::sqrt(capacity_J_K_[n]);
  found.shape.assign(shape.data(), shape.data() + shape.size());
  return found;
}

MarchStep ShaftMarch::step(AngularVelocity speed, const Surroundings& around, Time duration) {
  const double dt_s = duration.value();
  if (!(dt_s > 0.0)) throw std::invalid_argument("shaft: a step must take time");
  if (!(around.oil.value() > 0.0 && around.dry.value() > 0.0))
    throw std::invalid_argument("shaft: temperatures must be above absolute zero");
  const HeatTransferCoefficient oil_film = contact::film_coefficient(
      system_.oil_side, system_.diameter, speed, contact::oil_state(system_.lubricant, around.oil));
  const HeatTransferCoefficient dry_film = contact::film_coefficient(
      system_.dry_side, system_.diameter, speed, contact::air_state(around.dry));
  if (modes_.shape.empty() || modes_.oil_film != oil_film || modes_.dry_film != dry_film)
    modes_ = modes(oil_film, dry_film);

  // All temperatures over that of the oil, so that a shaft at rest in it stays exactly there.
  const Eigen::Index nodes = index(node_m_.size());
  const double oil_K = around.oil.value();
  const double dry_over_oil_K = around.dry.value() - oil_K;
  const auto body_over_oil_K = [&](const Seat& seat) {
    return seat.body_in_oil ? 0.0 : dry_over_oil_K;
  };
  const Eigen::Map<const Eigen::ArrayXd> capacity_J_K(capacity_J_K_.data(), nodes);
  const Eigen::Map<const Eigen::ArrayXd> to_oil_W_K(modes_.to_oil_W_K.data(), nodes);
  const Eigen::Map<const Eigen::ArrayXd> to_dry_W_K(modes_.to_dry_W_K.data(), nodes);
  const Eigen::Map<const Eigen::ArrayXd> rate_per_s(modes_.rate_per_s.data(), nodes);
  const Eigen::Map<const Eigen::MatrixXd> shape(modes_.shape.data(), nodes, nodes);
  const Eigen::ArrayXd before_K = Eigen::Map<const Eigen::ArrayXd>(node_K_.data(), nodes) - oil_K;

  Eigen::ArrayXd source_W = to_dry_W_K * dry_over_oil_K;
  for (const Seat& seat : seats_)
    source_W[index(seat.node)] +=
        seat.into_shaft * (seat.current_W + seat.body_W_K * body_over_oil_K(seat));

  const Eigen::ArrayXd decays = rate_per_s * dt_s;
  const Eigen::ArrayXd kept = (-decays).exp();
  const Eigen::ArrayXd mean_kept = decays.unaryExpr(&mean_decay);
  const Eigen::ArrayXd before = (shape.transpose() * (capacity_J_K * before_K).matrix()).array();
  const auto modal = [&](const Eigen::ArrayXd& heat_W) -> Eigen::ArrayXd {
    return (shape.transpose() * heat_W.matrix()).array();
  };
  const auto at_nodes = [&](const Eigen::ArrayXd& mode) -> Eigen::ArrayXd {
    return (shape * mode.matrix()).array();
  };

  // The end of the step is linear in the powers, as the steady state is: the same films meet it.
  const Eigen::ArrayXd without_K =
      at_nodes(kept * before + dt_s * mean_kept * modal(source_W)) + oil_K;
  const std::size_t contacts = seats_.size();
  std::vector<double> idle_K(contacts);
  std::vector<double> resistance(contacts * contacts);
  for (std::size_t i = 0; i < contacts; ++i) {
    const Seat& seat = seats_[i];
    idle_K[i] = seat.into_shaft * without_K[index(seat.node)] +
                (1.0 - seat.into_shaft) * (oil_K + body_over_oil_K(seat)) +
                seat.current_W / (seat.shaft_W_K + seat.body_W_K);
    for (std::size_t j = 0; j < contacts; ++j)
      resistance[i * contacts + j] =
          seat.into_shaft * seats_[j].into_shaft * dt_s *
          (shape.row(index(seat.node)).array() * shape.row(index(seats_[j].node)).array() *
           mean_kept.transpose())
              .sum();
    resistance[i * contacts + i] += 1.0 / (seat.shaft_W_K + seat.body_W_K);
  }
  const auto resistance_K_W = [&](std::size_t i, std::size_t j) {
    return resistance[i * contacts + j];
  };

  MovingContacts moving = moving_contacts(system_, speed, around);
  for (const Film& film : moving.films) {
    moving.contact_K[film.contact] = contact_K_[film.contact];
    moving.power_W[film.contact] = power_W_[film.contact];
  }
  settle_films(
      moving, system_.lubricant, [&](std::size_t i) { return idle_K[i]; }, resistance_K_W);

  MarchStep result;
  ShaftState& end = result.end;
  end.contacts.resize(contacts);
  end.speed = speed;
  end.surroundings = around;
  end.oil_film = oil_film;
  end.dry_film = dry_film;
  end.loop_gain = loop_gain_bound(moving.films, resistance_K_W);
  if (!(end.loop_gain < 1.0))
    throw std::domain_error("thermally unstable: a warmer contact makes more heat than it sheds");
  set_friction(end, system_, moving);

  for (std::size_t i = 0; i < contacts; ++i)
    source_W[index(seats_[i].node)] += seats_[i].into_shaft * end.contacts[i].power.value();
  const Eigen::ArrayXd heat = modal(source_W);
  const Eigen::ArrayXd after_K = at_nodes(kept * before + dt_s * mean_kept * heat);
  const Eigen::ArrayXd mean_K =
      at_nodes(mean_kept * before + dt_s * decays.unaryExpr(&mean_rise) * heat);

  double friction_W = 0.0;
  double mean_oil_W = (to_oil_W_K * mean_K).sum();
  double mean_dry_W = (to_dry_W_K * (mean_K - dry_over_oil_K)).sum();
  for (std::size_t i = 0; i < contacts; ++i) {
    const Seat& seat = seats_[i];
    ContactState& c = end.contacts[i];
    const double power_W = c.power.value();
    const double heat_W = power_W + seat.current_W;
    const double body_K = body_over_oil_K(seat);
    const auto contact_over_oil_K = [&](double shaft_K) {
      return (heat_W + seat.shaft_W_K * shaft_K + seat.body_W_K * body_K) /
             (seat.shaft_W_K + seat.body_W_K);
    };
    const double shaft_K = after_K[index(seat.node)];
    const double contact_K = contact_over_oil_K(shaft_K);
    c.contact = Temperature::from_value(oil_K + contact_K);
    c.shaft_under = Temperature::from_value(oil_K + shaft_K);
    c.into_shaft = Power::from_value(seat.shaft_W_K * (contact_K - shaft_K));
    c.into_body = Power::from_value(seat.body_W_K * (contact_K - body_K));
    friction_W += heat_W;
    (seat.body_in_oil ? mean_oil_W : mean_dry_W) +=
        seat.body_W_K * (contact_over_oil_K(mean_K[index(seat.node)]) - body_K);
    contact_K_[i] = c.contact.value();
    power_W_[i] = power_W;
  }
  end.into_oil_side = Power::from_value((to_oil_W_K * after_K).sum());
  end.into_dry_side = Power::from_value((to_dry_W_K * (after_K - dry_over_oil_K)).sum());
  result.friction = Energy::from_value(friction_W * dt_s);
  result.into_oil = Energy::from_value(mean_oil_W * dt_s);
  result.into_dry = Energy::from_value(mean_dry_W * dt_s);
  result.stored = Energy::from_value((capacity_J_K * (after_K - before_K)).sum());
  Eigen::Map<Eigen::ArrayXd>(node_K_.data(), nodes) = after_K + oil_K;
  return result;
}

}  // namespace ohmdrag::component

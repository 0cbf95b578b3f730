#include "ohmdrag/component/shaft_march.hpp"

#include <Eigen/Eigenvalues>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <utility>

#include "component/film_contact.hpp"

namespace ohmdrag::component {

namespace {

// Cells. Half a millimetre resolves the first second of steel; each next one half as large again.
constexpr double first_cell_m = 0.5e-3;
constexpr double growth = 1.5;
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

// Node positions that fill the shaft around the fixed ones, which are sorted and far enough apart.
// front_m and back_m: the ends, equal to the outermost fixed node where there is nothing beyond.
std::vector<double> cell_nodes(const std::vector<double>& fixed_m, double front_m, double back_m) {
  std::vector<double> nodes_m;
  if (fixed_m.front() - front_m > same_place_m) {
    const auto cells = growing_cells(fixed_m.front() - front_m, least_cells);
    double at_m = front_m;
    for (auto cell = cells.rbegin(); cell != cells.rend(); ++cell) {
      nodes_m.push_back(at_m);
      at_m += *cell;
    }
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

// (1 - exp(-x)) / x: mean of a decay over a step, relative to its start.
double mean_decay(double x) { return x > 0.0 ? -std::expm1(-x) / x : 1.0; }

// (1 - mean_decay(x)) / x, without cancellation.
double mean_rise(double x) {
  return x < 1e-3 ? 0.5 - x / 6.0 + x * x / 24.0 : (1.0 - mean_decay(x)) / x;
}

double film_at_rest(const contact::Convection& law, Length diameter,
                    const contact::FluidState& fluid) {
  return contact::film_coefficient(law, diameter, AngularVelocity{}, fluid).value();
}

}  // namespace

ShaftMarch::ShaftMarch(ShaftSystem system, const ShaftStore& store, Temperature start)
    : system_(std::move(system)) {
  if (!(store.density.value() > 0.0 && store.specific_heat.value() > 0.0))
    throw std::invalid_argument("shaft: density and specific heat must be positive");
  // Refuses what the steady shaft refuses.
  const ThermalNetwork steady(system_, AngularVelocity{}, {start, start});

  const double seal_m = system_.wet_until.value();
  std::vector<double> fixed_m;
  const auto node_at = [&](double position_m) {
    if (fixed_m.empty() || position_m - fixed_m.back() > same_place_m)
      fixed_m.push_back(position_m);
    return fixed_m.size() - 1;
  };
  std::vector<std::size_t> seat_node;
  bool seal_placed = false;
  double placed_seal_m = seal_m;
  const auto place_seal = [&] {
    placed_seal_m = fixed_m.at(node_at(seal_m));
    seal_placed = true;
  };
  for (const ShaftContact& c : system_.contacts) {
    if (!seal_placed && c.position.value() > seal_m) place_seal();
    seat_node.push_back(node_at(c.position.value()));
  }
  if (!seal_placed) place_seal();

  const auto endless_m = [&](const contact::Convection& law, const contact::FluidState& fluid) {
    const contact::ShaftFin fin{
        system_.diameter, system_.conductivity,
        HeatTransferCoefficient::from_value(film_at_rest(law, system_.diameter, fluid)),
        system_.bore};
    return kept_decay_lengths * contact::decay_length(fin).value();
  };
  const double front_m =
      system_.oil_side_length
          ? seal_m - system_.oil_side_length->value()
          : fixed_m.front() -
                endless_m(system_.oil_side, contact::oil_state(system_.lubricant, start));
  const double back_m =
      system_.dry_side_length
          ? seal_m + system_.dry_side_length->value()
          : fixed_m.back() + endless_m(system_.dry_side, contact::air_state(start));
  node_m_ = cell_nodes(fixed_m, front_m, back_m);
}

}  // namespace ohmdrag::component

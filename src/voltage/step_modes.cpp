#include "voltage/step_modes.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace ohmdrag::voltage {

namespace {

using Poles = std::vector<std::complex<double>>;
using Matrix = Eigen::MatrixXd;

Eigen::Index at(std::size_t film) { return static_cast<Eigen::Index>(film); }

/// Without films: a series circuit of R, L and C. Weights by the distance of the poles, which is
/// exact where they nearly meet.
std::vector<StepMode> modes_without_films(const Branch& branch, double c_F) {
  if (branch.l_H == 0.0) return {{-1.0 / (branch.r_ohm * c_F), 1.0}};
  const double alpha = branch.r_ohm / (2.0 * branch.l_H);
  const double w0 = std::sqrt(1.0 / (branch.l_H * c_F));
  // As a product: exact where alpha and w0 nearly agree.
  const double discriminant = (alpha - w0) * (alpha + w0);
  const double distance = 2.0 * std::sqrt(std::abs(discriminant));
  if (discriminant < 0.0) {
    const std::complex<double> pole{-alpha, 0.5 * distance};
    return {{pole, 2.0 * std::conj(pole) / std::complex<double>{0.0, -distance}}};
  }
  // The slow one as a quotient: the difference of two large numbers would lose it for a small L.
  const double fast = -(alpha + 0.5 * distance);
  const double slow = w0 * w0 / fast;
  return {{fast, slow / distance}, {slow, -fast / distance}};
}

// State matrices in energies (each state times the root of its capacitance or inductance), so that
// all entries are rates.

Matrix state_with_inductance(const Branch& branch, double c_F) {
  const auto n = at(branch.films.size());
  Matrix a = Matrix::Zero(n + 2, n + 2);
  const double swing = 1.0 / std::sqrt(branch.l_H * c_F);
  a(0, 1) = -swing;
  a(1, 0) = swing;
  a(1, 1) = -branch.r_ohm / branch.l_H;
  for (std::size_t k = 0; k < branch.films.size(); ++k) {
    const double coupling = 1.0 / std::sqrt(branch.l_H * branch.films[k].c_F);
    a(1, 2 + at(k)) = -coupling;
    a(2 + at(k), 1) = coupling;
    a(2 + at(k), 2 + at(k)) = -branch.films[k].rate_per_s();
  }
  return a;
}

/// Without inductance the current follows from the voltages: symmetric, all poles real.
Matrix state_with_resistance(const Branch& branch, double c_F) {
  const auto n = at(branch.films.size());
  Eigen::VectorXd share(n + 1);
  share(0) = -1.0 / std::sqrt(c_F);
  for (std::size_t k = 0; k < branch.films.size(); ++k)
    share(1 + at(k)) = 1.0 / std::sqrt(branch.films[k].c_F);
  Matrix a = -share * share.transpose() / branch.r_ohm;
  for (std::size_t k = 0; k < branch.films.size(); ++k)
    a(1 + at(k), 1 + at(k)) -= branch.films[k].rate_per_s();
  return a;
}

/// Films alone: the node's voltage is the sum of theirs.
Matrix state_of_films(const Branch& branch, double c_F) {
  double elastance = 1.0 / c_F;
  Eigen::VectorXd share(at(branch.films.size()));
  for (std::size_t k = 0; k < branch.films.size(); ++k) {
    elastance += 1.0 / branch.films[k].c_F;
    share(at(k)) = std::sqrt(branch.films[k].rate_per_s() / branch.films[k].c_F);
  }
  Matrix a = share * share.transpose() / elastance;
  for (std::size_t k = 0; k < branch.films.size(); ++k)
    a(at(k), at(k)) -= branch.films[k].rate_per_s();
  return a;
}

/// Eigenvalues are exact against the largest of them; each is made so against itself.
std::complex<double> polished(std::complex<double> pole, const Branch& branch, double c_F) {
  const auto excess = [&](std::complex<double> s) {
    return 1.0 + s * c_F * branch.impedance_ohm(s);
  };
  double size = std::abs(excess(pole));
  for (int i = 0; i < 4 && size > 0.0; ++i) {
    const std::complex<double> slope =
        c_F * (branch.impedance_ohm(pole) + pole * branch.impedance_slope(pole));
    const std::complex<double> next = pole - excess(pole) / slope;
    const double next_size = std::abs(excess(next));
    if (!(next_size < size) || !(std::abs(next - pole) < 0.1 * std::abs(pole))) break;
    pole = next;
    size = next_size;
  }
  return pole;
}

Poles poles_with_films(const Branch& branch, double c_F) {
  Poles poles;
  if (branch.l_H == 0.0) {
    const Matrix a =
        branch.r_ohm > 0.0 ? state_with_resistance(branch, c_F) : state_of_films(branch, c_F);
    const Eigen::SelfAdjointEigenSolver<Matrix> solver(a, Eigen::EigenvaluesOnly);
    for (const double pole : solver.eigenvalues()) poles.emplace_back(pole);
  } else {
    const Eigen::EigenSolver<Matrix> solver(state_with_inductance(branch, c_F),
                                            /*computeEigenvectors=*/false);
    for (const std::complex<double> pole : solver.eigenvalues())
      if (pole.imag() >= 0.0) poles.push_back(pole);
  }
  for (std::complex<double>& pole : poles) pole = polished(pole, branch, c_F);
  return poles;
}

/// The residue at a pole by its distances from all others: where two nearly meet, an error of their
/// distance then leaves their sum as it is.
std::complex<double> weight_by_distances(const Poles& poles, std::size_t k, const Branch& branch,
                                         double c_F) {
  const std::complex<double> pole = poles[k];
  std::complex<double> weight = -1.0 / (branch.l_H * c_F * pole);
  auto film = branch.films.begin();
  const auto divide = [&](std::complex<double> other) {
    weight /= pole - other;
    // A zero for a pole: the size stays within bounds.
    if (film != branch.films.end()) weight *= pole + (film++)->rate_per_s();
  };
  for (std::size_t j = 0; j < poles.size(); ++j) {
    if (j != k) divide(poles[j]);
    if (poles[j].imag() > 0.0) divide(std::conj(poles[j]));
  }
  return weight;
}

std::vector<StepMode> modes_with_films(const Branch& branch, double c_F) {
  const Poles poles = poles_with_films(branch, c_F);
  std::vector<StepMode> modes;
  for (std::size_t k = 0; k < poles.size(); ++k) {
    const std::complex<double> pole = poles[k];
    // Without inductance no two poles meet.
    const std::complex<double> weight =
        branch.l_H > 0.0 ? weight_by_distances(poles, k, branch, c_F)
                         : 1.0 / (1.0 - c_F * pole * pole * branch.impedance_slope(pole));
    modes.push_back({pole, pole.imag() > 0.0 ? 2.0 * weight : weight});
  }
  return modes;
}

/// Where poles meet, weights grow without bound and cancel each other.
bool meet(const std::vector<StepMode>& modes) {
  constexpr double largest_weight = 1e6;  // leaves ten digits of the sum
  return std::ranges::any_of(
      modes, [](const StepMode& mode) { return !(std::abs(mode.weight) < largest_weight); });
}

std::vector<StepMode> modes_of(const Branch& branch, double c_F) {
  return branch.films.empty() ? modes_without_films(branch, c_F) : modes_with_films(branch, c_F);
}

}  // namespace

StepModes::StepModes(const ShaftNode& node, const MaybePath& path) : path_(path.has_value()) {
  bearing_voltage_ratio(node);  // refuses an undefined node
  if (path) branch_ = Branch(*path);
  const ShaftNode loaded = loaded_node(node, path);
  ratio_ = (loaded.winding_rotor / loaded.total).value();
  if (!path_) {
    modes_ = {{0.0, 1.0}};
  } else if (!branch_.conducts_perfectly()) {
    const double c_F = loaded.total.value();
    modes_ = modes_of(branch_, c_F);
    for (double aside = 1e-12; meet(modes_) && aside < 1e-3; aside *= 2.0)
      modes_ = modes_of(branch_, c_F * (1.0 + aside));
  }
}

std::complex<double> exp_less_one(std::complex<double> z) {
  if (z.imag() == 0.0) return std::expm1(z.real());  // no swing: no sine and no cosine
  // e^x (cos y + i sin y) - 1 by the half of y: one exponential, one sine with its cosine.
  const double grown = std::expm1(z.real());
  const double sine = std::sin(0.5 * z.imag()), cosine = std::cos(0.5 * z.imag());
  const double cosine_less_one = -2.0 * sine * sine;
  return {grown + (1.0 + grown) * cosine_less_one, (1.0 + grown) * (2.0 * sine * cosine)};
}

}  // namespace ohmdrag::voltage

#include "ohmdrag/voltage/measured_path.hpp"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <complex>
#include <numbers>
#include <stdexcept>

#include "voltage/series_fit.hpp"

namespace ohmdrag::voltage {

namespace {

using Complex = std::complex<double>;

constexpr double degree = std::numbers::pi / 180.0;
constexpr std::size_t most_films = 8;

struct Sample {
  double w_rad_s;
  Complex z_ohm;
};
using Table = std::vector<Sample>;

Table checked(std::span<const ImpedanceRow> rows) {
  if (rows.size() < 3)
    throw std::invalid_argument("impedance table: needs three frequencies or more");
  Table table;
  for (const ImpedanceRow& row : rows) {
    if (!(row.frequency > Frequency{} && std::isfinite(row.frequency.value()) &&
          row.magnitude > Resistance{} && std::isfinite(row.magnitude.value()) &&
          std::abs(row.phase_deg) <= 180.0))
      throw std::invalid_argument(
          "impedance table: needs positive frequencies and magnitudes and phases from -180 to 180 "
          "degrees");
    const double w_rad_s = 2.0 * std::numbers::pi * row.frequency.value();
    if (!table.empty() && !(w_rad_s > table.back().w_rad_s))
      throw std::invalid_argument("impedance table: the frequencies must rise");
    table.push_back({w_rad_s, std::polar(row.magnitude.value(), row.phase_deg * degree)});
  }
  return table;
}

/// The table with a capacitance taken off, and how much a deviation there counts in the table:
/// dZ/|Z| = dZ_b |Z|/|Z_b|^2.
SeriesTargets without_capacitance(const Table& table, double across_F) {
  SeriesTargets targets;
  for (const Sample& sample : table) {
    const Complex branch = 1.0 / (1.0 / sample.z_ohm - Complex{0.0, sample.w_rad_s * across_F});
    targets.push_back({sample.w_rad_s, branch, std::abs(sample.z_ohm) / std::norm(branch)});
  }
  return targets;
}

GroundingPath path_of(const Series& series, double across_F) {
  GroundingPath path{Resistance::from_value(series.r_ohm), Inductance::from_value(series.l_H)};
  for (const Series::Film& film : series.films)
    path.films.push_back(
        {Resistance::from_value(film.r_ohm), Capacitance::from_value(film.time_s / film.r_ohm)});
  path.across = Capacitance::from_value(across_F);
  return path;
}

/// Complex misfit, relative; the root of its mean square.
double misfit_rms(const GroundingPath& path, const Table& table) {
  double sum = 0.0;
  for (const Sample& at : table)
    sum += std::norm(
        impedance_ohm(path, Frequency::from_value(at.w_rad_s / (2.0 * std::numbers::pi))) /
            at.z_ohm -
        1.0);
  return std::sqrt(sum / double(table.size()));
}

/// A guess of the capacitance across, where the table turns from inductive to capacitive: what the
/// last row carries beside the inductance.
std::optional<double> resonant_capacitance_F(const Table& table) {
  constexpr double clearly = 20.0 * degree;
  const auto inductive =
      std::ranges::max_element(table, {}, [](const Sample& at) { return std::arg(at.z_ohm); });
  const Sample& last = table.back();
  const auto capacitive = std::min_element(inductive, table.end(), [](auto& a, auto& b) {
    return std::arg(a.z_ohm) < std::arg(b.z_ohm);
  });
  if (!(std::arg(inductive->z_ohm) > clearly && std::arg(capacitive->z_ohm) < -clearly))
    return std::nullopt;
  const double l_H = inductive->z_ohm.imag() / inductive->w_rad_s;
  const double c_F =
      (1.0 / last.z_ohm).imag() / last.w_rad_s + 1.0 / (last.w_rad_s * last.w_rad_s * l_H);
  return c_F > 0.0 ? std::optional{c_F} : std::nullopt;
}

GroundingPath best_path(const Table& table) {
  const auto with = [&](double across_F) {
    return path_of(fitted_series(without_capacitance(table, across_F), most_films), across_F);
  };
  const auto guess_F = resonant_capacitance_F(table);
  if (!guess_F) return with(0.0);
  const auto misfit = [&](double log_ratio) {
    return misfit_rms(with(*guess_F * std::exp(log_ratio)), table);
  };
  // The misfit has one deep and narrow valley: a scan finds it, a line search its ground.
  constexpr int steps = 24;
  const double reach = std::log(3.0);
  double best = 0.0, best_misfit = misfit(0.0);
  for (int i = 0; i <= steps; ++i) {
    const double log_ratio = reach * (2.0 * i / steps - 1.0);
    if (const double here = misfit(log_ratio); here < best_misfit) {
      best_misfit = here;
      best = log_ratio;
    }
  }
  const double step = 2.0 * reach / steps;
  constexpr int bits = 20;
  const double ground =
      boost::math::tools::brent_find_minima(misfit, best - step, best + step, bits).first;
  return with(*guess_F * std::exp(ground));
}

ImpedanceMisfit misfit_of(const GroundingPath& path, const Table& table) {
  ImpedanceMisfit misfit;
  double worst = -1.0, sum_dB2 = 0.0, sum_deg2 = 0.0;
  for (const Sample& at : table) {
    const Frequency frequency = Frequency::from_value(at.w_rad_s / (2.0 * std::numbers::pi));
    const Complex ratio = impedance_ohm(path, frequency) / at.z_ohm;
    const double dB = 20.0 * std::abs(std::log10(std::abs(ratio)));
    const double deg = std::abs(std::arg(ratio)) / degree;
    misfit.largest_dB = std::max(misfit.largest_dB, dB);
    misfit.largest_deg = std::max(misfit.largest_deg, deg);
    sum_dB2 += dB * dB;
    sum_deg2 += deg * deg;
    if (std::abs(ratio - 1.0) > worst) {
      worst = std::abs(ratio - 1.0);
      misfit.worst_at = frequency;
    }
  }
  misfit.rms_dB = std::sqrt(sum_dB2 / double(table.size()));
  misfit.rms_deg = std::sqrt(sum_deg2 / double(table.size()));
  return misfit;
}

}  // namespace

MeasuredPath measured_path(std::span<const ImpedanceRow> rows) {
  // 7 and 60 degrees are as far in the complex plane as 1 and 6 dB.
  constexpr double flagged_dB = 1.0, flagged_deg = 7.0;
  constexpr double refused_dB = 6.0, refused_deg = 60.0;
  const Table table = checked(rows);
  MeasuredPath measured{.path = best_path(table),
                        .misfit = {},
                        .from = rows.front().frequency,
                        .to = rows.back().frequency,
                        .flags = {}};
  measured.misfit = misfit_of(measured.path, table);
  const ImpedanceMisfit& misfit = measured.misfit;
  if (!(misfit.largest_dB <= refused_dB && misfit.largest_deg <= refused_deg))
    throw std::invalid_argument(
        "impedance table: not a passive impedance of resistances, films, an inductance and a "
        "capacitance across them");
  constexpr std::string_view formula = "impedance table (not a passive impedance)";
  if (const auto flag = numerics::flag_outside(formula, "misfit of the magnitude, dB",
                                               misfit.largest_dB, 0.0, flagged_dB))
    measured.flags.push_back(*flag);
  if (const auto flag = numerics::flag_outside(formula, "misfit of the phase, degrees",
                                               misfit.largest_deg, 0.0, flagged_deg))
    measured.flags.push_back(*flag);
  return measured;
}

GroundingPath with_impedance(const GroundingPath& path, double factor) {
  if (!(factor > 0.0)) throw std::invalid_argument("path: the factor must be positive");
  GroundingPath scaled = with_resistances(path, factor);
  scaled.inductance *= factor;
  for (Film& film : scaled.films) film.capacitance /= factor;
  scaled.across /= factor;
  return scaled;
}

}  // namespace ohmdrag::voltage

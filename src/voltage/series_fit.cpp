#include "voltage/series_fit.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>

#include "voltage/nonnegative_fit.hpp"

namespace ohmdrag::voltage {

namespace {

using Complex = std::complex<double>;
using Times = std::vector<double>;

constexpr double negligible_share = 1e-3;

/// The best members for given time constants; films that come out as nothing are left out.
Series fitted(const SeriesTargets& targets, const Times& times_s) {
  const auto rows = static_cast<Eigen::Index>(targets.size());
  const auto films = static_cast<Eigen::Index>(times_s.size());
  Eigen::MatrixXd a(2 * rows, 2 + films);
  Eigen::VectorXd b(2 * rows);
  for (Eigen::Index i = 0; i < rows; ++i) {
    const SeriesTarget& at = targets[static_cast<std::size_t>(i)];
    const auto put = [&](Eigen::Index column, Complex z_ohm) {
      a(2 * i, column) = at.weight_per_ohm * z_ohm.real();
      a(2 * i + 1, column) = at.weight_per_ohm * z_ohm.imag();
    };
    put(0, 1.0);
    put(1, {0.0, at.w_rad_s});
    for (Eigen::Index k = 0; k < films; ++k)
      put(2 + k, 1.0 / Complex{1.0, at.w_rad_s * times_s[static_cast<std::size_t>(k)]});
    b(2 * i) = at.weight_per_ohm * at.z_ohm.real();
    b(2 * i + 1) = at.weight_per_ohm * at.z_ohm.imag();
  }
  const Eigen::VectorXd x = nonnegative_fit(a, b);
  Series series{x(0), x(1), {}};
  for (Eigen::Index k = 0; k < films; ++k)
    if (x(2 + k) > 0.0) series.films.push_back({x(2 + k), times_s[static_cast<std::size_t>(k)]});
  return series;
}

Times times_of(const Series& series) {
  Times times_s;
  for (const Series::Film& film : series.films) times_s.push_back(film.time_s);
  return times_s;
}

Series::Film joined(const Series::Film& a, const Series::Film& b) {
  const double sum_ohm = a.r_ohm + b.r_ohm;
  return {sum_ohm, (a.r_ohm * a.time_s + b.r_ohm * b.time_s) / sum_ohm};
}

/// Ever finer grids around the time constants in use; neighbours on the last one are one film.
Series closed_in(const SeriesTargets& targets, const Times& start_s, double spacing) {
  constexpr double finest = 1.005;
  Series series = fitted(targets, start_s);
  while (spacing > finest) {
    spacing = std::sqrt(spacing);
    Times times_s;
    for (const double t_s : times_of(series))
      for (const double factor : {1.0 / spacing, 1.0, spacing}) times_s.push_back(factor * t_s);
    std::ranges::sort(times_s);
    const auto same = [](double x, double y) { return y < x * (1.0 + 1e-9); };
    times_s.erase(std::unique(times_s.begin(), times_s.end(), same), times_s.end());
    series = fitted(targets, times_s);
  }
  std::vector<Series::Film> merged;
  for (const Series::Film& film : series.films) {
    if (merged.empty() || film.time_s > merged.back().time_s * spacing * spacing)
      merged.push_back(film);
    else
      merged.back() = joined(merged.back(), film);
  }
  series.films = merged;
  return fitted(targets, times_of(series));
}

Series on_coarse_grid(const SeriesTargets& targets) {
  constexpr double beyond_table = 10.0;
  const double spacing = std::pow(10.0, 0.25);
  Times times_s;
  for (double t_s = 1.0 / (targets.back().w_rad_s * beyond_table);
       t_s < beyond_table / targets.front().w_rad_s; t_s *= spacing)
    times_s.push_back(t_s);
  return closed_in(targets, times_s, spacing);
}

double misfit_rms(const SeriesTargets& targets, const Series& series) {
  double sum = 0.0;
  for (const SeriesTarget& at : targets)
    sum += std::norm(at.weight_per_ohm * (series.impedance_ohm(at.w_rad_s) - at.z_ohm));
  return std::sqrt(sum / double(targets.size()));
}

/// The largest share of the impedance that a part makes anywhere.
template <class Part>
double largest_share(const SeriesTargets& targets, const Part& part_ohm) {
  double largest = 0.0;
  for (const SeriesTarget& at : targets)
    largest = std::max(largest, std::abs(part_ohm(at.w_rad_s)) * at.weight_per_ohm);
  return largest;
}

/// The two films closest in time constant as one, and the rest settled anew.
Series with_closest_joined(const SeriesTargets& targets, const Series& series) {
  std::size_t closest = 0;
  const auto ratio = [&](std::size_t k) {
    return series.films[k + 1].time_s / series.films[k].time_s;
  };
  for (std::size_t k = 1; k + 1 < series.films.size(); ++k)
    if (ratio(k) < ratio(closest)) closest = k;
  Times times_s = times_of(series);
  times_s[closest] = joined(series.films[closest], series.films[closest + 1]).time_s;
  times_s.erase(times_s.begin() + static_cast<std::ptrdiff_t>(closest) + 1);
  return closed_in(targets, times_s, ratio(closest));
}

Series with_few_films(const SeriesTargets& targets, Series series, std::size_t most_films) {
  // A tenth more misfit, or what no instrument sees, for a film less.
  constexpr double hardly_more = 1.1, invisible = 1e-3;
  while (series.films.size() > 1) {
    const Series fewer = with_closest_joined(targets, series);
    if (fewer.films.size() >= series.films.size()) break;
    if (series.films.size() <= most_films &&
        misfit_rms(targets, fewer) > std::max(hardly_more * misfit_rms(targets, series), invisible))
      break;
    series = fewer;
  }
  return series;
}

Series pruned(const SeriesTargets& targets, Series series, std::size_t most_films) {
  while (!series.films.empty()) {
    std::vector<double> shares;
    for (const Series::Film& film : series.films)
      shares.push_back(
          largest_share(targets, [&](double w_rad_s) { return film.impedance_ohm(w_rad_s); }));
    const auto least = std::ranges::min_element(shares);
    if (series.films.size() <= most_films && *least >= negligible_share) break;
    series.films.erase(series.films.begin() + (least - shares.begin()));
    series = fitted(targets, times_of(series));
  }
  const double inductive_share = largest_share(targets, [&](double w_rad_s) {
    return Complex{0.0, w_rad_s * series.l_H};
  });
  if (inductive_share < negligible_share) series.l_H = 0.0;
  return series;
}

}  // namespace

Complex Series::impedance_ohm(double w_rad_s) const {
  Complex z_ohm{r_ohm, w_rad_s * l_H};
  for (const Film& film : films) z_ohm += film.impedance_ohm(w_rad_s);
  return z_ohm;
}

Series fitted_series(const SeriesTargets& targets, std::size_t most_films) {
  const Series few = with_few_films(targets, on_coarse_grid(targets), most_films);
  return pruned(targets, few, most_films);
}

}  // namespace ohmdrag::voltage

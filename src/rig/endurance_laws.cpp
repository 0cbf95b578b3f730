#include "rig/endurance_laws.hpp"

#include <algorithm>
#include <limits>

#include "ohmdrag/numerics/akaike.hpp"

namespace ohmdrag::rig {

namespace {

/// Less noise of ln Z is rounding.
constexpr double least_noise = 1e-9;
/// Less weight of a law is none.
constexpr double least_weight = 1e-4;

/// Autocorrelation of the residuals, one reading of a specimen to its next.
double lag_one_of(const EnduranceData& data, const PooledFit& pooled) {
  double products = 0.0, squares = 0.0;
  std::size_t datum = 0;
  for (const EnduranceSeries& series : data.specimens)
    for (std::size_t j = 0; j < series.time_s.size(); ++j, ++datum) {
      const double r = pooled.fit.residual[datum];
      squares += r * r;
      if (j > 0) products += r * pooled.fit.residual[datum - 1];
    }
  return squares > 0.0 ? products / squares : 0.0;
}

class Comparison {
 public:
  Comparison(const EnduranceData& data, EnduranceFit& out) : data_(data), out_(out) {}

  std::vector<LawCandidate> run() {
    std::vector<LawCandidate> all;
    double noise = std::numeric_limits<double>::infinity();
    for (const GrowthLaw law :
         {GrowthLaw::none, GrowthLaw::power, GrowthLaw::logarithmic, GrowthLaw::saturating}) {
      LawCandidate& next = all.emplace_back();
      next.row.law = law;
      next.pooled = fit_pooled(data_, law);
      next.row.noise = next.pooled.noise();
      next.row.left_out = why_left_out(next.pooled);
      if (!next.row.left_out.empty() || !(next.row.noise < noise)) continue;
      noise = next.row.noise;
      out_.lag_one = noise > least_noise ? lag_one_of(data_, next.pooled) : 0.0;
    }
    const double following = std::max(0.0, out_.lag_one);
    const auto n = static_cast<double>(data_.readings);
    out_.effective_readings = n * (1.0 - following) / (1.0 + following);
    weigh(all, std::max(noise, least_noise));
    return all;
  }

 private:
  std::string why_left_out(const PooledFit& pooled) const {
    if (!pooled.fit.converged) return "the search finds no end";
    if (pooled.law != GrowthLaw::saturating) return {};
    for (std::size_t i = 0; i < data_.specimens.size(); ++i)
      if (lost_at_last(pooled.growth_of(i), pooled.reference_s, pooled.log_time) > most_lost)
        return "it would lose more than 0.99 of the contact in the end: nothing saturates";
    return {};
  }

  void weigh(std::vector<LawCandidate>& all, double noise) const {
    const double count = out_.effective_readings;
    double best = std::numeric_limits<double>::infinity();
    for (LawCandidate& candidate : all) {
      const auto k = static_cast<double>(candidate.pooled.fit.parameter.size()) + 1.0;
      if (!candidate.row.left_out.empty() || !(count - k - 1.0 > 0.0)) continue;
      const double lost =
          misfit(candidate.pooled, noise) * count / static_cast<double>(data_.readings);
      candidate.row.criterion = lost + 2.0 * k + 2.0 * k * (k + 1.0) / (count - k - 1.0);
      best = std::min(best, *candidate.row.criterion);
    }
    std::vector<double> criteria;
    for (LawCandidate& candidate : all)
      if (candidate.row.criterion) criteria.push_back(*candidate.row.criterion -= best);
    const std::vector<double> weights = numerics::akaike_weights(criteria);
    auto weight = weights.begin();
    for (LawCandidate& candidate : all) {
      if (candidate.row.criterion) candidate.row.weight = *weight++;
      if (candidate.row.weight < least_weight) candidate.row.weight = 0.0;
    }
    const auto order = [](const LawCandidate& candidate) {
      return candidate.row.criterion.value_or(std::numeric_limits<double>::infinity());
    };
    std::stable_sort(all.begin(), all.end(), [&](const LawCandidate& a, const LawCandidate& b) {
      return order(a) < order(b);
    });
  }

  const EnduranceData& data_;
  EnduranceFit& out_;
};

}  // namespace

std::vector<LawCandidate> compared_laws(const EnduranceData& data, EnduranceFit& out) {
  return Comparison(data, out).run();
}

}  // namespace ohmdrag::rig

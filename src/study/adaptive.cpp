#include "study/adaptive.hpp"

#include <algorithm>

#include "ohmdrag/numerics/still_ends.hpp"
#include "study/headline_figures.hpp"

namespace ohmdrag::study {
namespace {

std::vector<StableEnd> ends_of(const Ensemble& ensemble, std::size_t block, int digits) {
  constexpr double coverage = 0.95;
  std::vector<StableEnd> rows;
  for (const HeadlineOfDraw& figure : headlines_of_draws(ensemble)) {
    const numerics::StillEnds ends = numerics::still_ends(figure.values, block, coverage, digits);
    rows.push_back({ensemble.question->variants[figure.variant].id, figure.figure, figure.unit,
                    ends.low_error, ends.high_error, ends.tolerance, ends.still()});
  }
  return rows;
}

}  // namespace

Stability take_until_still(Ensemble& ensemble) {
  const AdaptiveSampling& asked = *ensemble.question->adaptive;
  const int most = asked.most > 0 ? asked.most : adaptive_most;
  const auto block = static_cast<std::size_t>(ensemble.draws->samples());
  Stability result{asked.digits, 1, static_cast<int>(block), false, {}};
  while (!result.still && ensemble.draws->samples() + result.block <= most) {
    const auto first = static_cast<std::size_t>(ensemble.draws->samples());
    ensemble.draws->add_block();
    ensemble.take(first, block);
    if (++result.blocks < adaptive_fewest_blocks) continue;
    result.figures = ends_of(ensemble, block, asked.digits);
    result.still = std::ranges::all_of(result.figures, &StableEnd::still);
  }
  return result;
}

}  // namespace ohmdrag::study

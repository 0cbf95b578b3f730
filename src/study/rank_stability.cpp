#include "study/rank_stability.hpp"

#include <algorithm>
#include <numeric>

namespace ohmdrag::study {

RankStability rank_stability(const std::vector<std::string>& ids,
                             const std::vector<std::vector<std::optional<double>>>& costs) {
  const std::size_t count = ids.size();
  const double draws = static_cast<double>(costs.size());
  std::vector<RankRow> rows(count);
  std::vector<double> place_sum(count);
  for (std::size_t v = 0; v < count; ++v) rows[v] = {ids[v], std::vector<double>(count), 0.0};
  for (const auto& cost : costs) {
    std::vector<std::size_t> in;
    for (std::size_t v = 0; v < count; ++v) {
      if (cost[v]) {
        in.push_back(v);
      } else {
        ++rows[v].out;
        place_sum[v] += static_cast<double>(count);
      }
    }
    std::ranges::stable_sort(in, {}, [&](std::size_t v) { return *cost[v]; });
    for (std::size_t place = 0; place < in.size(); ++place) {
      ++rows[in[place]].places[place];
      place_sum[in[place]] += static_cast<double>(place);
    }
  }
  for (RankRow& row : rows) {
    row.out /= draws;
    for (double& place : row.places) place /= draws;
  }
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, {}, [&](std::size_t v) { return place_sum[v]; });

  RankStability result;
  for (std::size_t i = 0; i < count; ++i) {
    result.rows.push_back(rows[order[i]]);
    if (i == 0) continue;
    const std::size_t ahead = order[i - 1], behind = order[i];
    RankPair pair{ids[ahead], ids[behind], 0.0, 0.0, 0.0};
    for (const auto& cost : costs) {
      const auto &a = cost[ahead], &b = cost[behind];
      const bool first = a && (!b || *a < *b), second = b && (!a || *b < *a);
      ++(first ? pair.holds : second ? pair.turned : pair.undecided);
    }
    for (double* count_of : {&pair.holds, &pair.turned, &pair.undecided}) *count_of /= draws;
    result.pairs.push_back(std::move(pair));
  }
  return result;
}

}  // namespace ohmdrag::study

#include "ohmdrag/numerics/lane_width.hpp"

#include <cstddef>
#include <stdexcept>

#include "ohmdrag/numerics/lane_math.hpp"

namespace ohmdrag::numerics {

namespace {

void require_one_length(std::span<const double> of, std::span<double> found) {
  if (of.size() != found.size())
    throw std::invalid_argument("lanes: values and results must be as many");
}

}  // namespace

std::string_view name(LaneWidth width) {
  if (width == LaneWidth::eight) return "AVX-512";
  return width == LaneWidth::four ? "AVX2" : "SSE2";
}

std::vector<LaneWidth> lane_widths() {
  std::vector<LaneWidth> found{LaneWidth::two};
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__)
  if (__builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma"))
    found.push_back(LaneWidth::four);
  if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
      __builtin_cpu_supports("fma"))
    found.push_back(LaneWidth::eight);
#endif
  return found;
}

LaneWidth widest_lanes() {
  static const LaneWidth widest = lane_widths().back();
  return widest;
}

void lane_exponentials(std::span<const double> of, std::span<double> found, LaneWidth width) {
  require_one_length(of, found);
  run_at_width(width, [x = of.data(), y = found.data(), count = of.size()] {
#pragma GCC ivdep
    for (std::size_t i = 0; i < count; ++i) y[i] = LaneMath::exp(x[i]);
  });
}

void lane_logarithms(std::span<const double> of, std::span<double> found, LaneWidth width) {
  require_one_length(of, found);
  run_at_width(width, [x = of.data(), y = found.data(), count = of.size()] {
#pragma GCC ivdep
    for (std::size_t i = 0; i < count; ++i) y[i] = LaneMath::log(x[i]);
  });
}

}  // namespace ohmdrag::numerics

#pragma once

#include <span>
#include <string_view>
#include <vector>

/// One source compiled for several widths of vector instructions; the processor chooses.
namespace ohmdrag::numerics {

/// Doubles an instruction works on.
enum class LaneWidth {
  two,    ///< SSE2: what every x86-64 has, and what other processors compile to
  four,   ///< AVX2 with fused multiply-adds
  eight,  ///< AVX-512 (F, DQ)
};

std::string_view name(LaneWidth width);

/// Those that this processor has, the widest last. Never empty.
std::vector<LaneWidth> lane_widths();
LaneWidth widest_lanes();

namespace lane_width_detail {

// Everything the work calls is inlined and so becomes code of that width; nothing of it is emitted
// on its own, where a processor without the instructions could come across it. Multiply-adds are
// fused where a source says so (fused()) and nowhere else: SSE2 has none, and the widths would part
// by them.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__)
template <class Work>
[[gnu::target("avx512f,avx512dq,fma,prefer-vector-width=512"), gnu::flatten, gnu::noinline]] void
run_eight(Work& work) {
  work();
}
template <class Work>
[[gnu::target("avx2,fma"), gnu::flatten, gnu::noinline]] void run_four(Work& work) {
  work();
}
#endif
template <class Work>
[[gnu::flatten, gnu::noinline]] void run_two(Work& work) {
  work();
}

}  // namespace lane_width_detail

/// Runs loops over lanes at a width. The file that calls this is compiled with -ffp-contract=off
/// and -fno-trapping-math (src/numerics/CMakeLists.txt), so that every width gives the same bits
/// and selects become vector instructions.
///
/// Validity  the width is one of lane_widths().
template <class Work>
void run_at_width(LaneWidth width, Work&& work) {
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__)
  if (width == LaneWidth::eight) return lane_width_detail::run_eight(work);
  if (width == LaneWidth::four) return lane_width_detail::run_four(work);
#else
  (void)width;
#endif
  lane_width_detail::run_two(work);
}

/// LaneMath over arrays, for tests and for setting up many lanes; both spans of one length.
/// \throws std::invalid_argument for spans of different length.
void lane_exponentials(std::span<const double> of, std::span<double> found, LaneWidth width);
void lane_logarithms(std::span<const double> of, std::span<double> found, LaneWidth width);

}  // namespace ohmdrag::numerics

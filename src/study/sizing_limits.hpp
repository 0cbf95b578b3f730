#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/study/sizing.hpp"
#include "study/sections.hpp"

/// What bounds the window of an element, asked draw by draw.
namespace ohmdrag::study {

struct LimitTest {
  std::string id, what;
  double share = 0.0;
  /// Whether variant v keeps it in a draw; nothing: it does not apply there.
  std::function<std::optional<bool>(std::size_t v, std::size_t draw)> kept;
  /// Where a confidence is asked for: the share of the parts that keeps it with that confidence.
  std::function<std::optional<double>(std::size_t v)> share_at_confidence = {};
};

/// The share of parts that a limit asks for where nothing says otherwise.
inline constexpr double usual_share = 0.95;

/// Requirements of the case, then what the element and its neighbours stand: temperature, wear
/// over the service, contact over a turn, least force of a lip, allocations of watts to the element
/// itself. \param ensemble  of variants that differ in the knob alone, beside the baseline;
/// outlives the
///                  tests
/// \param any       one of these variants; outlives the tests
std::vector<LimitTest> limit_tests(const Ensemble& ensemble, const SizingQuestion& what,
                                   const Nominal& any);

/// Index of the sized part among the contacts that age; none if it does not age.
std::optional<std::size_t> sized_contact(const Nominal& any, SizedPart part);

}  // namespace ohmdrag::study

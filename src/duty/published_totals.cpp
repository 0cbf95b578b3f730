#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "ohmdrag/duty/cycle.hpp"

namespace ohmdrag::duty {

namespace {

CycleTotals totals_of(const Cycle& cycle, const std::string& phase) {
  if (phase == whole) return totals(cycle);
  const auto found = std::ranges::find(cycle.phases, phase, &Phase::id);
  if (found == cycle.phases.end())
    throw std::invalid_argument(fmt::format("cycle {} has no phase {}", cycle.id, phase));
  return totals(cycle, *found);
}

TotalValue value_of(const CycleTotals& all, Total total) {
  switch (total) {
    case Total::duration:
      return all.duration;
    case Total::distance:
      return all.distance;
    case Total::checksum:
      return all.checksum;
    case Total::max_speed:
      return all.max;
    case Total::mean_speed:
      return all.mean;
  }
  throw std::invalid_argument("unknown total of a cycle");
}

double raw_SI(const TotalValue& value) {
  return std::visit([](const auto& quantity) { return quantity.value(); }, value);
}

std::string in_words(const TotalValue& value) {
  if (const auto* speed = std::get_if<Speed>(&value))
    return fmt::format("{:.7g} km/h", in_kmh(*speed));
  return fmt::format("{:.8g} {}", raw_SI(value), std::holds_alternative<Time>(value) ? "s" : "m");
}

}  // namespace

std::vector<Mismatch> mismatches(const Cycle& cycle, std::span<const PublishedTotal> published) {
  std::vector<Mismatch> missed;
  for (const PublishedTotal& expected : published) {
    const TotalValue found = value_of(totals_of(cycle, expected.phase), expected.total);
    const std::string_view word = total_words.at(static_cast<std::size_t>(expected.total));
    if (expected.value.index() != found.index() || expected.tolerance.index() != found.index())
      throw std::invalid_argument(
          fmt::format("cycle {}: published {} has the wrong unit", cycle.id, word));
    if (std::abs(raw_SI(found) - raw_SI(expected.value)) <= raw_SI(expected.tolerance)) continue;
    missed.push_back({expected, found,
                      fmt::format("cycle {}, {}: {} is {}, published {} within {}", cycle.id,
                                  expected.phase, word, in_words(found), in_words(expected.value),
                                  in_words(expected.tolerance))});
  }
  return missed;
}

}  // namespace ohmdrag::duty

#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <string>

#include "ohmdrag/study/design.hpp"

namespace ohmdrag::study {

/// Rows of a design through three hands, several rows under way at once and never more than a few:
/// memory does not grow with the number of rows.
struct RowHands {
  /// The next row, or nothing: no further row is begun. One call at a time.
  std::function<std::optional<DesignRow>()> next;
  /// A row's text. Called from many threads at once.
  std::function<std::string(const DesignRow&)> work;
  /// Takes the texts in the order of the rows. One call at a time.
  std::function<void(std::size_t row, std::string text)> take;
};

/// Works until `next` has no more; the rows under way are finished and handed over. What one hand
/// throws first is thrown on when the rows under way have ended; no row is handed over after it.
void rows_in_order(const RowHands& hands);

}  // namespace ohmdrag::study

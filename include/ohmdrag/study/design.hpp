#pragma once

#include <cstddef>
#include <functional>
#include <span>
#include <string>
#include <vector>

/// Which cases a sweep asks for: rows of values for some keys of one case.
namespace ohmdrag::study {

/// One axis: a key of the case and what it takes. The levels of a range are computed when asked
/// for, so that a million of them take no memory.
struct DesignAxis {
  std::string key;                  ///< dotted, as after `--set`
  std::string unit;                 ///< of every cell; empty: the cells are whole texts
  std::string spread;               ///< goes with every cell, "± 20 %"; empty: none
  std::vector<std::string> values;  ///< as written one by one, numbers where there is a unit
  double from = 0.0;                ///< ends of a range, in the unit
  double to = 0.0;
  bool by_ratio = false;  ///< of a range: even in the logarithm
  std::size_t steps = 0;  ///< of a range in a factorial design, ends included

  /// How many levels a factorial design takes; 0: none.
  std::size_t levels() const;
  /// One of them, with 15 significant digits where it is computed, so that 0.1 + 0.2 reads 0.3.
  std::string level(std::size_t i) const;
};

enum class DesignKind {
  factorial,     ///< every level of every axis with every other; the last axis turns fastest
  list,          ///< rows as somebody wrote them
  quasi_random,  ///< points that fill the box of all ranges evenly
};

struct Design {
  DesignKind kind = DesignKind::factorial;
  std::vector<DesignAxis> axes;
  std::size_t rows = 0;
  /// What stands in a row, an axis each; empty: as the case has it. For one thread at a time, and
  /// quickest in rising order.
  std::function<std::vector<std::string>(std::size_t row)> cells;
  std::string in_words;  ///< "factorial, 2 axes, 12 rows"
  std::string sha256;    ///< of all that decides which values stand in which row
};

/// A row of a design.
struct DesignRow {
  std::size_t row = 0;  ///< from 0
  std::vector<std::string> cells;
};

/// Cells of a factorial design, out of the levels of its axes.
std::function<std::vector<std::string>(std::size_t row)> factorial_cells(
    std::vector<DesignAxis> axes);

/// Cells of a quasi-random design, out of the ranges of its axes: scrambled Sobol' points
/// (numerics/quasi_random.hpp), an axis a dimension. More rows leave the first ones as they are.
/// \throws std::invalid_argument for more axes than there are dimensions
std::function<std::vector<std::string>(std::size_t row)> quasi_random_cells(
    std::vector<DesignAxis> axes, unsigned long long seed);

/// The `--set`s of a row.
std::vector<std::string> sets_of(const Design& design, const DesignRow& row);

/// \throws std::invalid_argument for a range of fewer than two steps, of equal ends, or of ratios
///         between ends that are not both above zero
void check_range(double from, double to, std::size_t steps, bool by_ratio);

}  // namespace ohmdrag::study

#include "numerics/column_products.hpp"

#include <cstring>

#include "ohmdrag/numerics/lane_width.hpp"

namespace ohmdrag::numerics {
namespace {

using Eight [[gnu::vector_size(column_lanes * sizeof(double))]] = double;
/// Side by side, so that an instruction does not wait for the one before it.
constexpr std::size_t columns_at_once = 4;

struct Products {
  const double* columns;
  std::size_t rows, count;
  const double* by;
  double* products;

  void operator()() const {
    std::size_t c = 0;
    for (; c + columns_at_once <= count; c += columns_at_once) add<columns_at_once>(c);
    for (; c < count; ++c) add<1>(c);
  }

 private:
  template <std::size_t at_once>
  void add(std::size_t first) const {
    Eight sums[at_once] = {};
    for (std::size_t r = 0; r < rows; r += column_lanes) {
      Eight factor;
      std::memcpy(&factor, by + r, sizeof factor);
      for (std::size_t k = 0; k < at_once; ++k) {
        Eight value;
        std::memcpy(&value, columns + (first + k) * rows + r, sizeof value);
        sums[k] += value * factor;
      }
    }
    for (std::size_t k = 0; k < at_once; ++k) {
      double sum = 0.0;
      for (std::size_t lane = 0; lane < column_lanes; ++lane) sum += sums[k][lane];
      products[first + k] = sum;
    }
  }
};

struct Subtraction {
  const double* columns;
  std::size_t rows, count;
  const double* factors;
  double* from;

  /// A stretch of rows stays in registers while all columns pass.
  void operator()() const {
    constexpr std::size_t vectors = 4, stretch = vectors * column_lanes;
    std::size_t r = 0;
    for (; r + stretch <= rows; r += stretch) take<vectors>(r);
    for (; r < rows; r += column_lanes) take<1>(r);
  }

 private:
  template <std::size_t vectors>
  void take(std::size_t row) const {
    Eight left[vectors];
    std::memcpy(left, from + row, sizeof left);
    for (std::size_t c = 0; c < count; ++c) {
      Eight values[vectors];
      std::memcpy(values, columns + c * rows + row, sizeof values);
      for (std::size_t k = 0; k < vectors; ++k) left[k] -= factors[c] * values[k];
    }
    std::memcpy(from + row, left, sizeof left);
  }
};

}  // namespace

void column_products(const double* columns, std::size_t rows, std::size_t count, const double* by,
                     double* products) {
  run_at_width(widest_lanes(), Products{columns, rows, count, by, products});
}

void subtract_columns(const double* columns, std::size_t rows, std::size_t count,
                      const double* factors, double* from) {
  run_at_width(widest_lanes(), Subtraction{columns, rows, count, factors, from});
}

}  // namespace ohmdrag::numerics

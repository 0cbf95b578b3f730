#pragma once

#include <cstddef>

/// Sums over long columns that lie one behind the other, in lanes: the same bits at every width.
namespace ohmdrag::numerics {

/// Rows that a column is filled up to with zeros.
inline constexpr std::size_t column_lanes = 8;

/// \param rows      of a column, a multiple of column_lanes
/// \param products  of each column with the vector `by`
void column_products(const double* columns, std::size_t rows, std::size_t count, const double* by,
                     double* products);

/// Takes every column, times its factor, from a vector.
/// \param rows  as above
void subtract_columns(const double* columns, std::size_t rows, std::size_t count,
                      const double* factors, double* from);

}  // namespace ohmdrag::numerics

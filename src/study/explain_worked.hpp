#pragma once

#include <functional>
#include <string_view>

namespace ohmdrag::study {

/// The value of an expression of a chain: + - * / ^ (power, binds right and before a sign),
/// parentheses, numbers, symbols, pi and sqrt exp ln lg asin max min.
/// \param value_of  the value of a symbol
/// \throws std::logic_error for an expression that is none
double worked(std::string_view expression, const std::function<double(std::string_view)>& value_of);

}  // namespace ohmdrag::study

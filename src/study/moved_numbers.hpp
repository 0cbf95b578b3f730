#pragma once

#include <string>
#include <vector>

#include "ohmdrag/study/case.hpp"

/// Sealed numbers a little off, to see what hangs on them.
namespace ohmdrag::study {

/// The part of itself by which a number is moved; a temperature is moved by 1 K.
inline constexpr double moved_part = 0.01;

/// "1 %" or "1 K".
std::string moved_by_in_words(const UncertainNumber& number);

/// The case with one number up by that, with all numbers at their middle.
Case with_one_moved(const Case& question, const std::string& key);

/// The case with all of these moved at once, each by another part of some per cent so that no two
/// of them cancel; zero by as much of its SI unit.
/// \param direction  1 or -1
Case with_moved(const Case& question, const std::vector<UncertainNumber>& numbers,
                double direction);

}  // namespace ohmdrag::study

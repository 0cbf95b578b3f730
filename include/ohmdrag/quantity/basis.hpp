#pragma once

#include <array>
#include <optional>
#include <string_view>

namespace ohmdrag {

/// How a number is known. The order is the strength of the evidence, strongest first; a computed
/// number carries the weakest basis among the numbers it used.
enum class Basis {
  measured,         ///< the user's own test data, fitted runs
  standard,         ///< text of a standard or regulation, read
  drawing,          ///< the user's drawing
  data_sheet,       ///< a supplier's data sheet
  customer,         ///< stated by the customer
  handbook,         ///< handbook page or official data set, read
  paper,            ///< paper or thesis, read
  simulation,       ///< another program's result
  derived,          ///< algebra or arithmetic on stronger numbers
  common_practice,  ///< hearsay of the trade
  single_claim,     ///< one party's claim, nobody else's
  unverified,       ///< from memory or without a readable source
  assumed,          ///< an engineering choice
};

inline constexpr std::array basis_words{
    std::string_view{"measured"},     std::string_view{"standard"},
    std::string_view{"drawing"},      std::string_view{"data-sheet"},
    std::string_view{"customer"},     std::string_view{"handbook"},
    std::string_view{"paper"},        std::string_view{"simulation"},
    std::string_view{"derived"},      std::string_view{"common-practice"},
    std::string_view{"single-claim"}, std::string_view{"unverified"},
    std::string_view{"assumed"}};

std::string_view to_word(Basis basis);
/// The basis a word names, or nothing.
std::optional<Basis> basis_from_word(std::string_view word);
/// The weaker of two bases.
constexpr Basis weakest(Basis a, Basis b) { return a < b ? b : a; }
/// True for what the report counts as resting on assumption: single-claim, unverified, assumed.
constexpr bool rests_on_assumption(Basis b) { return b >= Basis::single_claim; }

}  // namespace ohmdrag

#pragma once

#include <cstddef>
#include <functional>
#include <span>
#include <string>
#include <vector>

#include "ohmdrag/study/case.hpp"

/// Which facts that nobody knows or that were only assumed could turn the answer, as questions.
namespace ohmdrag::study {

/// A verdict that would be another one if the number were known.
struct VerdictTurn {
  std::string variant, requirement;
  double probability = 0.0;
};

/// The number at one of the values that it may have.
struct KnownAt {
  double share = 0.0;  ///< how likely, as a weight of the quadrature
  double value = 0.0;  ///< in the question's unit
  std::string chosen;  ///< empty: no variant
};

struct OpenQuestion {
  std::string key;
  std::string value;  ///< printed with its interval
  std::string unit;   ///< empty of a ratio
  Basis basis = Basis::assumed;
  std::string source;
  bool unknown = false;  ///< the case says so itself
  /// Expected value of knowing the number: by how much the share of draws in which the chosen
  /// variant is the right one rises.
  double gain = 0.0;
  double choice_turns = 0.0;       ///< probability that another variant is chosen then
  std::vector<VerdictTurn> turns;  ///< of requirements, likeliest first
  std::vector<KnownAt> known;      ///< rising
  std::string text;                ///< the question
  std::string where;               ///< where the answer is found
  std::string consequence;         ///< what hangs on it
  double probability() const;      ///< that choice or a verdict turns
};

struct AskFindings {
  std::string title, baseline, chosen;  ///< no choice: empty
  bool invented = false;
  int samples = 0;
  unsigned long long seed = 0;
  double right = 0.0;                   ///< share of draws in which the choice is the right one
  std::vector<OpenQuestion> questions;  ///< most decisive first
  std::size_t open = 0;                 ///< numbers that are unknown or assumed, with a spread
  std::size_t irrelevant = 0;           ///< of these, what moves nothing that decides
  std::size_t closely = 0;              ///< of these, evaluated as known
  std::size_t without_spread = 0;  ///< assumed and without any spread: nothing says how far off
  /// The widest that a number which was not evaluated as known moves what decides, as a share of
  /// its interval; 0: none was left out.
  double left_out = 0.0;
  std::vector<std::string> cautions;
};

struct AskOptions {
  std::size_t closely = 12;  ///< how many numbers are evaluated as known
};

/// Told how many of how many evaluations are done.
using AskProgress = std::function<void(std::size_t done, std::size_t all)>;

/// Orders the open numbers of a case by what knowing them is worth to the choice.
///
/// Method    first every open number stands at both ends of its spread beside three draws of all
///           others: what moves nothing that decides, but for rounding, is never asked. Those that
///           move it most are then taken as known at three Gauss-Legendre points of their
///           distribution, and the draws, 200 at most, decide anew at each. Nothing is regressed,
///           so no noise of the sample is taken for an effect.
/// Order     how likely the choice turns, then the value of knowing, then how likely a verdict
/// turns. Value     expected value of perfect information with the utility "the chosen variant is
/// the right
///           one of this draw" (1 or 0): no price is needed. H. Raiffa, R. Schlaifer, Applied
///           Statistical Decision Theory (1961); for one number of many: M. Strong, J. E. Oakley,
///           A. Brennan, Medical Decision Making 34 (2014) 311-326.
/// Validity  one number at a time, all others as uncertain as before; part-to-part scatter stays.
/// Limits    three points see a turn of the choice only if it lies between or at 11, 50 and 89 % of
///           the distribution; a number that counts only together with another one is missed.
/// Accuracy  probabilities in steps of the quadrature weights, 0.28 and 0.44.
/// \throws as evaluate()
AskFindings ask(const Case& question, const AskOptions& options = {},
                const AskProgress& progress = {});

/// Expected value of knowing which of several states holds before one option is taken.
/// \param share    of each state, adding up to 1
/// \param utility  [state][option], its expectation given the state
/// \return not negative; 0 where one option is best in every state
/// \throws std::invalid_argument for no state, no option or rows of another length
double value_of_knowing(std::span<const double> share,
                        const std::vector<std::vector<double>>& utility);

}  // namespace ohmdrag::study

#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/quantity/basis.hpp"
#include "ohmdrag/quantity/distribution.hpp"

/// What moves the answer of a trade study, what it rests on and what would overturn it.
namespace ohmdrag::study {

/// A share of a figure's variance with its 95 % interval. Small shares, and ends of intervals, may
/// come out below 0 or above 1: they are estimates.
struct VarianceShare {
  double value = 0.0;
  double low = 0.0, high = 0.0;
};

/// What one input, or a group of inputs, does to a figure: Sobol' indices.
struct InputMoves {
  std::string name;              ///< its key; of a group what it is
  std::size_t inputs = 1;        ///< more than one: a group
  Basis basis = Basis::assumed;  ///< of a group the weakest
  VarianceShare first;           ///< by itself
  VarianceShare total;           ///< by itself and together with others
};

/// One headline figure and what moves it.
struct FigureMoves {
  std::string figure;  ///< "net W of dense-ring at cruise"
  std::string unit;
  double mean = 0.0, deviation = 0.0;  ///< over the inputs
  std::vector<InputMoves> inputs;      ///< by falling total index; all others as one group, last
  /// Of all inputs together that are assumed, unverified or one party's claim; none: there are
  /// none.
  std::optional<VarianceShare> assumed;
  std::size_t evaluations = 0;
  std::string remark;  ///< why there are no indices, or what they leave open
};

/// A rung of the evidence dial: numbers of weaker evidence than the rung take their full range.
struct DialStep {
  std::string kept;        ///< "all numbers as stated", "paper or better"
  std::size_t opened = 0;  ///< numbers that take their full range
  std::string chosen;      ///< empty: no variant
  // Of the variant that the study as stated chooses, or weighs first.
  std::optional<Interval> net_W;
  std::optional<Interval> battery_Wh_per_km;
  std::optional<Interval> kWh_per_year;
  std::optional<Interval> dose_factor;
  double probability_best = 0.0;
  std::string verdict;
  std::string why;  ///< the rung could not be computed; then only `kept` and `opened` hold
};

/// A number that the dial opened.
struct OpenedNumber {
  std::string name;
  Basis basis = Basis::assumed;
  std::string stated;  ///< with its unit
  std::string range;   ///< that it takes, 95 %, with its unit
  std::string how;     ///< "range of the trade", "its stated range, evenly", …
};

/// How often a variant takes each place among those that meet all requirements and help.
struct RankRow {
  std::string variant;
  std::vector<double> places;  ///< share of the draws in which it is first, second, …
  double out = 0.0;            ///< share of the draws in which it is not among them
};

/// How firm the order of two neighbours is, over the draws.
struct RankPair {
  std::string ahead, behind;
  double holds = 0.0;      ///< `ahead` costs less, or only it is among those that may be chosen
  double turned = 0.0;     ///< the other way round
  double undecided = 0.0;  ///< neither may be chosen, or they cost the same
};

/// An input of a set that overturns the recommendation.
struct ChangedInput {
  std::string name;
  std::string from, to;  ///< in the user's units
  double scores = 0.0;   ///< standard uncertainties that it is moved by, with its sign
  Basis basis = Basis::assumed;
};

/// A set of inputs at which the recommendation is another. Computed there, not extrapolated.
struct Flip {
  std::string because;               ///< "metal-brush meets …", "dense-ring misses drag"
  std::string becomes;               ///< what is recommended there; empty: no variant
  double distance = 0.0;             ///< standard uncertainties, all inputs together
  double probability = 0.0;          ///< roughly, of being that far in that direction
  std::vector<ChangedInput> inputs;  ///< by falling move
};

struct StressTest {
  std::string recommendation;   ///< of the study; empty: no variant
  bool middle_differs = false;  ///< with every input at its middle another one is recommended
  std::string at_middle;        ///< what is; empty: no variant
  std::optional<Flip> nearest;
  std::vector<Flip> single;            ///< inputs that alone overturn it within 95 % of their range
  double searched_to = 0.0;            ///< standard uncertainties
  std::size_t evaluations = 0;         ///< of the whole case
  std::string remark;                  ///< why nothing was searched, or not everything
  std::vector<std::string> sentences;  ///< the result in words
};

struct SensitivityFindings {
  std::vector<FigureMoves> figures;
  std::vector<DialStep> dial;
  std::vector<OpenedNumber> opened;  ///< at the last rung
  std::string dial_sentence;         ///< what the answer stands down to
  std::vector<RankRow> ranks;
  std::vector<RankPair> rank_pairs;
  StressTest stress;
  std::string argument_against;  ///< the strongest, with its number
};

}  // namespace ohmdrag::study

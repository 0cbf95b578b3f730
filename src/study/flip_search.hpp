#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

/// The nearest inputs at which a decision is another: design-point searches over every way in which
/// it can turn, told apart from what the decision is about.
namespace ohmdrag::study {

/// A decision at one point.
struct DecisionAt {
  std::optional<std::size_t> choice;
  /// One value a way of turning: above zero it has not turned in this way. Zero or less in one of
  /// them means another choice. Empty: there is no answer at this point.
  std::vector<double> states;
};

/// Decisions at points of standard normal scores, many at once.
using DecisionsAt =
    std::function<std::vector<DecisionAt>(const std::vector<std::vector<double>>& points)>;

/// The state of one way of turning at points of standard normal scores, many at once; nothing where
/// there is no answer.
using StatesAt = std::function<std::vector<std::optional<double>>(
    std::size_t way, const std::vector<std::vector<double>>& points)>;

struct FlipEffort {
  double farthest = 3.0;              ///< standard uncertainties
  double screen = 1.959963984540054;  ///< scores at which each coordinate is tried alone
  double least_move = 1e-4;           ///< of a state there, below which its other end is not tried
  std::size_t most_inputs = 6;        ///< coordinates of one search
  double least_slope = 0.03;          ///< of the steepest, below which one is left out of it
  std::size_t most_ways = 2;          ///< searches, those first that look nearest
  std::size_t iterations = 2;         ///< of one search
  double resolution = 0.01;           ///< of a crossing, standard uncertainties
  double closeness = 0.03;            ///< of two iterates of one search, at which it ends
  double dearer = 1.1;                ///< distance that fewer inputs may cost, as a factor
  std::size_t most_single = 3;        ///< coordinates that are followed alone
};

/// A point at which the choice is another; computed, not extrapolated.
struct FoundFlip {
  std::vector<double> scores;  ///< one a coordinate, most of them 0
  double distance = 0.0;
  std::size_t way = 0;  ///< in which it turned
  std::optional<std::size_t> becomes;
};

struct FlipSearch {
  std::optional<std::size_t> at_middle;  ///< the choice there
  bool middle_differs = false;           ///< from the recommendation: nothing is searched then
  std::optional<FoundFlip> nearest;
  std::vector<FoundFlip> single;  ///< by falling nearness
  std::size_t alone = 0;          ///< ends of single coordinates that turn it, followed or not
  std::size_t refused = 0;        ///< points of the screen without an answer
  std::size_t evaluations = 0;
};

/// Method    every coordinate alone to the upper end of its 95 % range, and those that move
///           something to the lower end as well: what turns the choice by itself
///           is followed back to where it does; the slopes over that stretch say for each way of
///           turning which coordinates matter and how far it looks. The nearest ways are searched
///           by numerics::design_point() over their coordinates. The nearest point is then put
///           together of as few coordinates as turn the choice within `dearer` of its distance.
/// Validity  independent inputs. A coordinate that does nothing alone, or nothing upwards, is not
///           seen.
/// Limits    a linear way of turning: its exact distance, less what the left-out coordinates add.
/// Accuracy  distances are upper bounds; `resolution` along their direction.
/// \param state  what a search over one way asks; the same as the decision has
/// \param tried  by coordinate, whether it is tried at all; empty: each is
FlipSearch flip_search(const DecisionsAt& decision, const StatesAt& state, std::size_t coordinates,
                       std::optional<std::size_t> recommendation, const FlipEffort& effort = {},
                       const std::vector<bool>& tried = {});

}  // namespace ohmdrag::study

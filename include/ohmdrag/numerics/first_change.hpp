#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

/// Where on a stretch a state changes first: for whoever follows a ray whose every point is dear.
namespace ohmdrag::numerics {

/// A state at many places of a stretch at once, so that they may be computed in parallel: above
/// zero it has not changed yet; infinite where nobody knows how far off that is.
using StateAlong = std::function<std::vector<double>(const std::vector<double>& places)>;

/// The change lies behind `before`, and at `at` it has been seen.
struct FirstChange {
  double before, at;
};

/// Method    eight even pieces, of which the last four are looked at only where the first four hold
///           no change; then, in the first piece that holds one, a pair of places a quarter of the
///           resolution apart around the zero of the chord, and thirds in turn with it where the
///           chord misses: a state that jumps is followed as well.
/// Validity  a state above zero at 0.
/// Limits    a change that is undone within a piece is not seen. A straight state: two places after
///           the pieces.
/// Accuracy  `resolution`, which `at` lies behind the change at most.
/// Source    the chord as in any text on regula falsi; pieces, pairs and thirds are derived: two
///           places at a time, for two cores.
/// \param at_start    the state at 0
/// \return nothing where no end of a piece has changed
/// \throws std::invalid_argument unless length and resolution are above zero
std::optional<FirstChange> first_change(const StateAlong& state, double at_start, double length,
                                        double resolution);

}  // namespace ohmdrag::numerics

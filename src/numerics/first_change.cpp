#include "ohmdrag/numerics/first_change.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace ohmdrag::numerics {
namespace {

constexpr std::size_t pieces = 8, pieces_at_once = 4;
/// Chords in a row that may miss before thirds take turns with them.
constexpr std::size_t chords_first = 2;

class Stretch {
 public:
  Stretch(const StateAlong& state, double at_start, double length, double resolution)
      : state_(state), length_(length), resolution_(resolution), g_low_(at_start) {}

  std::optional<FirstChange> run() {
    if (!find_piece()) return std::nullopt;
    for (std::size_t round = 0; high_ - low_ > resolution_; ++round) {
      const bool thirds = round >= chords_first && (round - chords_first) % 2 == 0;
      narrow(thirds ? third_points() : around_chord());
    }
    return FirstChange{low_, high_};
  }

 private:
  bool find_piece() {
    for (std::size_t from = 0; from < pieces; from += pieces_at_once) {
      std::vector<double> places;
      for (std::size_t k = from + 1; k <= from + pieces_at_once; ++k)
        places.push_back(length_ * double(k) / double(pieces));
      if (narrow(places)) return true;
    }
    return false;
  }

  /// Up to the first of these that has changed; whether there is one.
  bool narrow(const std::vector<double>& places) {
    const std::vector<double> states = state_(places);
    for (std::size_t i = 0; i < places.size(); ++i) {
      if (states[i] <= 0.0) {
        high_ = places[i];
        g_high_ = states[i];
        return true;
      }
      low_ = places[i];
      g_low_ = states[i];
    }
    return false;
  }

  std::vector<double> third_points() const {
    const double third = (high_ - low_) / 3.0;
    return {low_ + third, high_ - third};
  }

  /// Inside the bracket, which is wider than the resolution.
  std::vector<double> around_chord() const {
    const bool known = std::isfinite(g_low_) && std::isfinite(g_high_);
    const double share = known ? g_low_ / (g_low_ - g_high_) : 0.5;
    const double reach = 0.125 * resolution_;
    const double middle = low_ + share * (high_ - low_);
    const double zero = std::clamp(middle, low_ + 2.0 * reach, high_ - 2.0 * reach);
    return {zero - reach, zero + reach};
  }

  const StateAlong& state_;
  double length_, resolution_;
  double low_ = 0.0, high_ = 0.0;
  double g_low_, g_high_ = 0.0;
};

}  // namespace

std::optional<FirstChange> first_change(const StateAlong& state, double at_start, double length,
                                        double resolution) {
  if (!(length > 0.0) || !(resolution > 0.0))
    throw std::invalid_argument("first change: length and resolution above zero");
  return Stretch(state, at_start, length, resolution).run();
}

}  // namespace ohmdrag::numerics

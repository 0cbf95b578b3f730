#pragma once

#include <array>
#include <span>
#include <vector>

#include "ohmdrag/voltage/held_voltage.hpp"

namespace ohmdrag::voltage {

/// The carrier periods of a carrier over which held voltages are the worst, laid out once for any
/// number of nodes and paths: SI doubles for the loops over them.
///
/// Between 0 and 30 degrees the staircases repeat, mirrored or with the legs exchanged: its ends,
/// the middles of twelve equal parts, and both sides of every place where an interval begins to
/// count as a hold. The shortest holds are the fullest, so that without those places the figure
/// would depend on how near to them the middles happen to lie.
class CarrierPlaces {
 public:
  /// Periods side by side.
  static constexpr std::size_t lanes = 8;
  /// Intervals between edges in a period; those that are not there have no length.
  static constexpr std::size_t stretches = 6;

  /// 	hrows std::invalid_argument for an undefined carrier.
  explicit CarrierPlaces(const Carrier& carrier);

  const Carrier& carrier() const { return carrier_; }

  /// Periods by stretch; the last block repeats its last period.
  struct Block {
    using Rows = std::array<std::array<double, lanes>, stretches>;
    Rows length_s{};
    Rows step_V{};   ///< of the edge that begins the stretch
    Rows is_hold{};  ///< 1 where it counts as one, else 0
  };
  std::span<const Block> blocks() const { return blocks_; }

 private:
  Carrier carrier_;
  std::vector<Block> blocks_;
};

/// held_after_discharge() for one of many nodes or paths at one carrier.
Voltage held_after_discharge(const ShaftNode& node, const MaybePath& path,
                             const CarrierPlaces& places);

}  // namespace ohmdrag::voltage

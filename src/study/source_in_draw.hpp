#pragma once

#include <memory>
#include <vector>

#include "ohmdrag/voltage/carrier_places.hpp"
#include "study/source_model.hpp"

/// The source of a world in one draw, with what of it all its paths share.
namespace ohmdrag::study {

/// Columns over the speeds at which stresses are solved ahead, beside those where the modulation
/// bends.
inline constexpr double columns_up_to_top = 8.0;

/// The shaft speeds at which stresses are solved ahead, and the carrier there: of one source,
/// whatever the path. Rising; the first is zero, the last the largest.
///
/// Carrier periods are laid out when they are first asked for: until prepare() has laid out all it
/// is not to be shared between threads.
class StressSpeeds {
 public:
  explicit StressSpeeds(const SourceModel& source);

  const std::vector<double>& rad_s() const { return rad_s_; }
  /// \param rad_s  one of these
  const voltage::CarrierPlaces& places(double rad_s) const;
  void prepare() const;

 private:
  const voltage::CarrierPlaces& places_at(std::size_t index) const;

  std::vector<double> rad_s_;
  std::vector<voltage::Carrier> carriers_;
  mutable std::vector<std::unique_ptr<const voltage::CarrierPlaces>> places_;
};

/// The source of a world in one draw, for all its variants.
///
/// Not to be shared between threads, as StressSpeeds.
struct SourceInDraw {
  /// \param like  of the same world in another draw, its speeds prepared: taken over where the
  ///              carrier is the same
  SourceInDraw(const Inverter& inverter, const Draw& draw, const SourceInDraw* like = nullptr);

  /// The carrier at a speed that many ask for, as that of an operating point: laid out once.
  const voltage::CarrierPlaces& places(AngularVelocity speed) const;

  SourceModel model;
  std::shared_ptr<const StressSpeeds> speeds;

 private:
  mutable std::vector<std::unique_ptr<const voltage::CarrierPlaces>> asked_for_;
};

}  // namespace ohmdrag::study

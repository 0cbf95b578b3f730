#pragma once

#include <optional>
#include <vector>

#include "study/explain_parts.hpp"
#include "study/samples.hpp"

namespace ohmdrag::study {

/// A stretch of a duty that is worked out in place of all of them: the one that takes most of what
/// is summed.
class StretchChain {
 public:
  /// \param worked_out  else only counts
  StretchChain(const Ensemble& ensemble, std::size_t v, std::size_t duty, bool worked_out,
               Chain& chain);

  /// How many stretches a duty has.
  std::size_t count(std::size_t duty) const;

  // Each once, and nothing where no stretch has any.
  void watts();
  /// What a bearing loses of its basic or modified rating life.
  void damage(std::size_t bearing, double BearingSample::*member);
  /// Time in which it may strike, or dose.
  void strikes(double BearingSample::*member);

 private:
  struct Place {
    const energy::Stretch* stretch = nullptr;
    Temperature oil;
    double most = 0.0;  ///< of what is summed
  };
  /// Where a sum grows most.
  template <class Share>
  Place most_of(const Share& share) const;
  void dt(const Place& place);

  Nominal nominal_;
  std::size_t duty_;
  bool worked_out_;
  bool struck_ = false;  ///< strikes() has been asked
  std::optional<DutyModel> model_;
  Chain& chain_;
};

}  // namespace ohmdrag::study

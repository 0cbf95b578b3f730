#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "study/duty_walk.hpp"
#include "study/electric.hpp"
#include "study/quick_duty.hpp"

namespace ohmdrag::study {

/// A variant whose grounding contact rubs and does not conduct.
VariantModel without_path(VariantModel variant);

/// A variant whose contacts have reached an age, and its way through the duties. With the path and
/// without it the same oil and films: what differs is the path alone.
///
/// Accuracy  of trips as march(), of all other duties as QuickDuties.
class Passage {
 public:
  /// \param unit  with its contacts at that age; must outlive this
  /// \param open  the variant without its path; likewise
  Passage(const Nominal& nominal, Age age, const VariantModel& unit, const ElectricModel& open);

  /// Through all duties but measured trips.
  /// \param marched  by this unit
  void run(QuickDuties& duties, const QuickDuties::Marched& marched);
  /// Goes the way of a trip by itself.
  void follow(const DutyModel& way, std::size_t duty);
  /// The same piece by piece, for a passage of new contacts, which the walk marches anyhow.
  void see(const energy::Moment& moment, std::size_t duty);
  void finish(const DutyModel& way, const energy::Ledger& ledger, std::size_t duty);

  /// Time and way of every duty; discharges and fatigue of every bearing.
  const VariantSample& with() const { return with_; }
  /// The same with a contact that rubs and does not conduct.
  const VariantSample& without() const { return unit_.grounded ? without_ : with_; }
  double turning_share(const ServiceMix& mix) const { return per_second(mix, turning_s_); }
  double element_W(const ServiceMix& mix) const { return per_second(mix, element_J_); }

 private:
  /// Mean of sums by duty over the running time of the mix, weighted as service_mean() does.
  double per_second(const ServiceMix& mix, const std::vector<double>& by_duty) const;

  const WorldModel& model_;
  const VariantModel& unit_;
  ElectricModel electric_;
  const ElectricModel& open_;
  VariantSample with_, without_;
  ElectricState scratch_;
  std::vector<double> turning_s_, element_J_;  ///< by duty
  std::optional<std::size_t> element_;         ///< as a part of the unit
};

/// A variant, everything at its middle, at every age.
class YearsLane : public Onlooker {
 public:
  /// \param walker, mix, duties  must outlive this
  /// \param duties  of the variant's world in the nominal draw
  YearsLane(const Walker& walker, const ServiceMix& mix, const QuickDuties* duties);

  void set_out() override;
  bool wants(std::size_t duty) const override {
    return mix.share[duty] > 0.0 && !nominal.world->duties[duty].trips.empty();
  }
  void begin(const DutyModel& way, std::size_t duty) override;
  void see(const energy::Moment& moment) override;
  void end(const energy::Ledger& ledger) override;

  const Passage& at(Age age) const;
  /// The grounding contact; null without one.
  const LivingContact* element() const;
  /// Elements that the service uses up, the last one perhaps not wholly.
  double elements(double service_h) const;

  const std::size_t variant;
  const Nominal& nominal;
  const ServiceMix& mix;

 private:
  const QuickDuties* duties_;
  VariantModel pathless_;
  ElectricModel open_;
  std::vector<VariantModel> units_;                 ///< of the passages
  std::vector<std::unique_ptr<Passage>> passages_;  ///< one only where all ages are alike
  const DutyModel* way_ = nullptr;                  ///< under way
  std::size_t duty_ = 0;                            ///< of it
};

}  // namespace ohmdrag::study

#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "study/decision.hpp"

namespace ohmdrag::study {

/// A number that is known, as the quantile u of its spread.
struct KnownNumber {
  const UncertainNumber* number = nullptr;
  double u = 0.5;
};

/// What a case decides with one number or another known: out of the draws of one ensemble, in each
/// of which that number stands at its place for all who share it and all others stay where they
/// are. Its part-to-part scatter stays.
///
/// Method  the decisive part of the case alone is evaluated. What contacts have lived through in
///         their service stays that of the case in the middle. Cases with measured trips, or with a
///         requirement that asks for a confidence, are evaluated whole, each time anew.
class KnownDecisions {
 public:
  /// \param question  must outlive it
  /// \throws as evaluate()
  explicit KnownDecisions(const Case& question);
  KnownDecisions(const KnownDecisions&) = delete;
  KnownDecisions& operator=(const KnownDecisions&) = delete;

  int samples() const { return whole_.draws->samples(); }
  Decision now() const { return decision_of(whole_); }

  std::vector<Decision> with(std::span<const KnownNumber> known) const;
  /// Only what the decisions are read from, draw by draw.
  std::vector<DecidingFigures> deciding_with(std::span<const KnownNumber> known) const;

 private:
  using Seen = std::function<void(std::size_t known, const Ensemble& ensemble)>;
  void for_each(std::span<const KnownNumber> known, const Seen& seen) const;
  void for_each_anew(std::span<const KnownNumber> known, const Seen& seen) const;
  Ensemble part_of(std::span<const Places> places) const;

  const Case* question_;
  Ensemble whole_;
  Case part_;
  bool anew_;
  std::vector<Places> places_;                    ///< by draw
  std::shared_ptr<const NominalWorlds> nominal_;  ///< of the part
};

}  // namespace ohmdrag::study

#pragma once

#include <optional>
#include <string>
#include <vector>

#include "study/combined_lives.hpp"
#include "study/damage_law.hpp"
#include "study/explain_parts.hpp"
#include "study/explain_stretch.hpp"

namespace ohmdrag::study {

/// Sums of one variant over the service of the nominal case. Of each marched sum one stretch is
/// worked out first, and the sum itself is stated with the number of its stretches.
class ServiceChain {
 public:
  /// \param tail  of the symbols; the stretches are those of the variant without one
  ServiceChain(const Ensemble& ensemble, std::size_t v, std::string tail, Chain& chain);

  /// Energy per kilometre at the battery, or mean watts of a machine, over the mix; its symbol.
  std::string energy();
  /// Mean of a sum per second of running; of one way to the frame or of all; its symbol.
  std::string per_second(const std::string& what, double BearingSample::*member,
                         std::optional<std::size_t> place, const std::string& unit,
                         const std::string& meaning);
  /// All bearings together; the symbol is that of the figure.
  void system(const std::string& figure, const std::string& what, double BearingSample::*damage,
              const std::string& meaning);
  /// Life of all bearings under the first law, causes independent; its symbol.
  std::string life_under_law(const std::string& symbol);

  bool driven() const { return mix_.driven; }
  const ServiceMix& mix() const { return mix_; }

 private:
  /// Hours of one bearing that a share of its life a second leaves; its symbol.
  std::string hours(const std::string& what, double BearingSample::*damage, std::size_t b,
                    const std::string& meaning);
  double seconds_per_unit();
  std::string of(std::size_t d) const;
  double weight(std::size_t d) const;
  std::string share_of(std::size_t d);
  std::string time_of(std::size_t d);
  std::string distance_of(std::size_t d);
  /// Of all parts over all phases, at the battery or of a machine at the shaft.
  std::string joules_of(std::size_t d);
  std::string fatigue_hours_of(std::size_t b, const BearingLives& lives);
  std::string erosion_hours_of(std::size_t b, const DamageLaw& law, const BearingLives& lives);
  /// Where the sum over a duty comes from.
  std::string marched(std::size_t d);

  const Ensemble& ensemble_;
  const Case& question_;
  const Case& world_;
  const VariantSample& sample_;
  ServiceMix mix_;
  std::size_t v_;
  std::string tail_;
  Chain& chain_;
  std::vector<std::size_t> duties_;  ///< with a share
  std::string seconds_;
  std::optional<StretchChain> stretch_;  ///< of the first of these
};

/// battery_Wh_per_km, kWh_per_year, break_even_kWh.
void explain_energy(const Ensemble& ensemble, std::size_t v, const std::string& figure,
                    Chain& chain);

}  // namespace ohmdrag::study

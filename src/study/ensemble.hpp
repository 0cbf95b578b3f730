#pragma once

#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "ohmdrag/study/draws.hpp"
#include "ohmdrag/study/evaluate.hpp"
#include "study/model.hpp"
#include "study/samples.hpp"

namespace ohmdrag::study {

class ElectricModel;

/// A case with its draws and, per variant, what every draw yields. Built once; all sections of the
/// findings are read from it.
struct Ensemble {
  /// Computes nominal run and ensemble, in parallel over the draws.
  Ensemble(const Case& question, const Sections& sections, const TripProgress& progress = {});

  const Case* question;
  Sections sections;
  std::vector<Frequency> frequencies;  ///< of the impedance figures
  std::unique_ptr<Draws> draws;
  std::size_t baseline = 0;                         ///< index of the baseline variant
  std::vector<ServiceHistory> histories;            ///< per variant
  std::vector<std::vector<VariantSample>> samples;  ///< [variant][draw]
  std::vector<std::vector<TripRow>> trips;          ///< per variant, one after another

  const Case& world(std::size_t variant) const;
};

/// Every variant of a case with its numbers at stated places, in parallel over these; nothing where
/// the model refuses them. Duties of measured trips are left empty.
std::vector<std::optional<std::vector<VariantSample>>> samples_at(const Ensemble& of,
                                                                  std::span<const Places> places);

/// The case a variant lives in: its own world, or the case itself.
const Case& world_of(const Case& question, const Variant& variant);

/// The unit of new contacts, with the friction of their first hours where the point says how long
/// they have run.
energy::DriveUnit unit_at(const OperatingPoint& point, const Case& world,
                          const VariantModel& variant, const Draw& draw);

/// One point of one variant in one draw.
PointSample point_sample(const WorldModel& model, const VariantModel& variant,
                         const OperatingPoint& point, const Draw& draw);

/// One variant over one duty or trip in one draw, without its baseline consumption.
/// \param electric  null: nothing strikes
DutySample duty_sample(const WorldModel& model, const VariantModel& variant, const DutyModel& duty,
                       const ElectricModel* electric);
/// Consumption of the vehicle as it stands, Wh/km; zero for a machine.
double baseline_consumption(const WorldModel& model, const DutyModel& duty, const Draw& draw);

}  // namespace ohmdrag::study

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
class NominalWorlds;
class QuickDuties;

/// A case with its draws and, per variant, what every draw yields. Built once; all sections of the
/// findings are read from it.
struct Ensemble {
  /// Computes nominal run and ensemble, in parallel over the draws: as many as the case asks for,
  /// or until the headline figures stand still.
  Ensemble(const Case& question, const Sections& sections, const TripProgress& progress = {});
  /// Of the same case, for other draws, none of which are taken yet.
  Ensemble(const Ensemble& like, const Sections& sections, Draws other);

  /// Computes these draws and adds what they yield to `samples`.
  void take(std::size_t first, std::size_t count);

  const Case* question;
  Sections sections;
  std::vector<Frequency> frequencies;  ///< of the impedance figures
  std::unique_ptr<Draws> draws;
  std::size_t baseline = 0;               ///< index of the baseline variant
  std::vector<ServiceHistory> histories;  ///< per variant
  /// Duties laid out once: what does not hang on the draw is taken over from here.
  std::shared_ptr<const NominalWorlds> nominal;
  std::vector<std::vector<VariantSample>> samples;  ///< [variant][draw]
  std::vector<std::vector<TripRow>> trips;          ///< per variant, one after another
  std::optional<Stability> stability;               ///< of an adaptive ensemble
  /// [variant][requirement], where a requirement asks for a confidence.
  std::vector<std::vector<std::optional<ShareOfParts>>> parts;

  const Case& world(std::size_t variant) const;
};

/// Every uncertain number of a case, once per place.
std::vector<const UncertainNumber*> numbers_of(const Case& question);
/// Some variants of a case in one draw. Duties of measured trips are left empty.
/// \param variants  rising
/// \throws std::invalid_argument, std::domain_error where the model refuses the numbers
std::vector<VariantSample> samples_in(const Ensemble& of, const Draw& draw,
                                      std::span<const std::size_t> variants);

/// The duties of a variant's world in the nominal draw, for others to take over what they share;
/// null where none are marched.
const QuickDuties* nominal_duties(const Ensemble& of, std::size_t variant);

/// The case a variant lives in: its own world, or the case itself.
const Case& world_of(const Case& question, const Variant& variant);

}  // namespace ohmdrag::study

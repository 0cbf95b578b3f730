#pragma once

#include <span>
#include <string>
#include <vector>

#include "ohmdrag/rig/unit_drag_fit.hpp"
#include "ohmdrag/study/unit_drag_run.hpp"
#include "study/model.hpp"

namespace ohmdrag::study {

/// The models of a unit's parts at the readings of a run.
class UnitDragModel {
 public:
  /// \throws std::invalid_argument, in words, as fit_run.
  explicit UnitDragModel(const UnitDragLog& log);

  /// Of the parts that were in any build, in the order of the variant.
  const std::vector<std::string>& parts() const { return parts_; }
  /// Which of them are in, a row a build.
  const std::vector<std::vector<bool>>& fitted() const { return fitted_; }

  struct FrictionFactor {
    std::string part;  ///< a contact
    double factor = 1.0;
  };
  /// Torque of every part at every reading, at the driven shaft [N m]; zero for what is not in.
  /// \param friction  on the friction of a contact in every build; none: all as they are
  std::vector<std::vector<double>> torques_Nm(const Draw& draw,
                                              const FrictionFactor* friction = nullptr) const;

  const Case& world() const { return *world_; }
  const Variant& variant() const { return *variant_; }

 private:
  const UnitDragLog& log_;
  const Variant* variant_ = nullptr;
  const Case* world_ = nullptr;
  std::vector<std::string> parts_;
  std::vector<std::vector<bool>> fitted_;
};

/// What the draws of the case say of the parts' levels, tilts and warmths.
rig::UnitDragPrior drag_prior(const UnitDragLog& log, const UnitDragModel& model,
                              const std::vector<std::vector<double>>& middle_Nm);

/// Entries that make a case count with the corrected parts, and words on what they leave out.
void add_drag_entries(rig::RunFindings& out, const UnitDragLog& log, const UnitDragModel& model,
                      const rig::UnitDragFit& fit);

}  // namespace ohmdrag::study

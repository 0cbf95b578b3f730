#pragma once

#include <deque>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "ohmdrag/energy/quick_march.hpp"
#include "study/account.hpp"
#include "study/duty_columns.hpp"
#include "study/electric.hpp"
#include "study/ensemble.hpp"
#include "study/strike_lanes.hpp"

/// The duties of an ensemble, marched by tables and columns: every variant in every draw.
namespace ohmdrag::study {

/// What is asked of a duty.
enum class DutyFigures {
  all,
  without_fatigue,  ///< nothing of rolling fatigue: damage, viscosity ratio and their times stay
                    ///< zero
  energies,  ///< phases and final oil temperature: bearings, worth and consumption stay empty
};

/// The duties of one world in one draw, for all its variants. Trips stay empty: they are read one
/// by one and marched step by step.
class QuickDuties {
 public:
  /// \param like  of the same world in another draw: what does not hang on the draw is taken over.
  ///              It has to have been laid out for the same figures.
  QuickDuties(const WorldModel& model, const Draw& draw, const QuickDuties* like,
              DutyFigures figures = DutyFigures::all);

  /// Lays out what a variant and its electrics need, for itself and for all that follow.
  void prepare(const VariantModel& variant, const ElectricModel* electric);

  /// The stretches of a duty.
  const DutyModel& way(std::size_t duty) const { return *duties_[duty].way; }

  /// What the march of a variant found, by duty.
  using Marched = std::vector<energy::QuickMarch::Marched>;
  /// Marches variants of the world over every duty, all side by side.
  std::vector<Marched> march(std::span<const VariantModel> variants);

  /// One variant over every duty.
  ///
  /// Accuracy  as energy::QuickMarch, OilFatigue::accumulate() and ElectricModel::accumulate() of
  ///           whole duties; held against duty_sample() in tests/input/shipped_quick_duty_test.cpp.
  /// \param electric  null: nothing strikes
  /// \throws as duty_sample(): std::domain_error for a contact that is thermally unstable.
  std::vector<DutySample> samples(const VariantModel& variant, const ElectricModel* electric,
                                  const Marched& marched);
  /// The same of one that is marched alone.
  std::vector<DutySample> samples(const VariantModel& variant, const ElectricModel* electric);

 private:
  /// What an oil does to the bearings.
  struct Fatigued {
    OilFatigue law;
    numerics::LaneRows oil_K;  ///< at the start of each that counts
    std::vector<BearingSample> bearings;
  };
  /// The stretches over which something turns: only there bearings are worn or struck.
  struct Moving {
    struct Run {
      std::size_t first, count;
    };
    std::vector<energy::Stretch> stretches;
    std::vector<Run> runs;  ///< their places on the way: such as follow each other
  };
  struct OneDuty {
    std::shared_ptr<const DutyModel> way;  ///< sump and fatigue are those of the draw it is of
    energy::SumpDuty sump;
    std::shared_ptr<const Moving> moving = {};  ///< null where the way is that of one draw
    FatigueColumns fatigue = {};
    std::shared_ptr<const std::vector<ShaftTurning>> turning = {};
    std::vector<ShaftWorth> worth = {};
    std::vector<double> inputs = {};       ///< drawn numbers that the way hangs on
    std::vector<double> path_inputs = {};  ///< the same that consumption hangs on beside the way
    double baseline_Wh_per_km = 0.0;
    std::vector<std::shared_ptr<const energy::LoadTorques>> load_torques = {};
    std::shared_ptr<const StrikeColumns> strikes = {};
    std::optional<Fatigued> fatigued = {};  ///< by the latest variant, where the oil is held
    NodeCourse nodes = {};                  ///< likewise

    /// Those that columns are laid out for.
    const std::vector<energy::Stretch>& counted() const {
      return moving ? moving->stretches : way->stretches;
    }
    /// What holds at the start of each stretch of the way, of those that count, in blocks; the last
    /// one is filled with its last.
    numerics::LaneRows of_counted(std::span<const double> of_way) const;
  };
  /// All duties on one set of speed grids: of the variants whose friction bends alike.
  struct Placed {
    std::vector<component::SpeedGrid> grids;
    std::vector<std::shared_ptr<const energy::PlacedStretches>> duties;
  };

  /// The same and the columns of this draw.
  struct Here {
    std::shared_ptr<const Placed> placed;
    std::vector<energy::DutyColumns> columns;  ///< by duty; bearings are those of the world
  };

  void lay_out_loads(const VariantModel& variant);
  void lay_out_strikes(const ElectricModel* electric);
  /// An earlier duty that turns the shaft alike (one cycle from cold and with the oil hot); else
  /// null.
  const OneDuty* twin(std::size_t duty, std::size_t shaft) const;
  const Here& placed_for(const VariantModel& variant);
  /// The duty of `like` if its stretches are the same; else null.
  const OneDuty* same_way(std::size_t duty) const;
  DutySample sample(std::size_t duty, const VariantModel& variant, const ElectricModel* electric,
                    const energy::QuickMarch::Marched& marched);
  static std::shared_ptr<const Moving> moving_of(const std::vector<energy::Stretch>& way);
  std::vector<BearingSample> fatigued(OneDuty& duty, const OilFatigue& law,
                                      const numerics::LaneRows& oil_K) const;

  const WorldModel* model_;
  const QuickDuties* like_;
  DutyFigures figures_;
  std::optional<OilColumns> oil_;  ///< none for energies alone
  std::vector<OneDuty> duties_;
  bool ways_shared_ = false;                   ///< all with `like`
  std::vector<component::SpeedRange> speeds_;  ///< per shaft
  std::deque<Here> placed_;
};

}  // namespace ohmdrag::study

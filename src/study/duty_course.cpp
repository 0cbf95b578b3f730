#include "study/duty_course.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace ohmdrag::study {
namespace {

/// What comes together in one step of the course.
struct Step {
  double running_s = 0.0;
  double time_s2 = 0.0;  ///< sum of dt times its middle
  double oil_degC_s = 0.0;
  std::vector<double> contact_degC_s, highest_degC;
};

/// In bins of a histogram the oil is held step by step, and their order means nothing.
bool has_order(const Duty& duty) {
  return duty.load_steps.empty() || std::ranges::any_of(duty.load_steps, [](const LoadStep& step) {
           return !step.oil_temperature;
         });
}

/// The parts that have a contact temperature.
std::vector<std::size_t> contacts_of(const energy::DriveUnit& unit) {
  std::vector<std::size_t> parts;
  for (std::size_t p = 0; p < unit.parts.size(); ++p)
    if (std::holds_alternative<energy::ContactPart>(unit.parts[p].form)) parts.push_back(p);
  return parts;
}

/// Begin of every stretch, and the end of the last.
std::vector<double> begins_s(const std::vector<energy::Stretch>& stretches) {
  std::vector<double> result{0.0};
  for (const energy::Stretch& stretch : stretches)
    result.push_back(result.back() + stretch.dt.value());
  return result;
}

}  // namespace

class CourseLane : public Onlooker {
 public:
  explicit CourseLane(const Walker& walker)
      : variant(walker.variant),
        nominal_(walker.nominal),
        contacts_(contacts_of(walker.nominal.variant.unit)) {}

  bool wants(std::size_t duty) const override {
    const Duty& asked = nominal_.world->duties.at(duty);
    return asked.trips.empty() && has_order(asked);
  }
  void begin(const DutyModel& way, std::size_t duty) override {
    duty_ = nominal_.world->duties[duty].id;
    first_ = way.stretches.data();
    begin_s_ = begins_s(way.stretches);
    constexpr double least = -std::numeric_limits<double>::infinity();
    steps_.assign(
        std::min(DutyCourses::most_steps, way.stretches.size()),
        {0.0, 0.0, 0.0, std::vector(contacts_.size(), 0.0), std::vector(contacts_.size(), least)});
  }
  void see(const energy::Moment& moment) override {
    const auto i = static_cast<std::size_t>(&moment.stretch - first_);
    const double dt = moment.stretch.dt.value();
    const double middle_s = 0.5 * (begin_s_[i] + begin_s_[i + 1]);
    const double place = middle_s / begin_s_.back() * double(steps_.size());
    Step& step = steps_[std::min(static_cast<std::size_t>(place), steps_.size() - 1)];
    step.running_s += dt;
    step.time_s2 += dt * middle_s;
    step.oil_degC_s += dt * in_celsius(moment.oil);
    for (std::size_t c = 0; c < contacts_.size(); ++c) {
      const double degC = in_celsius(*moment.losses[contacts_[c]].contact);
      step.contact_degC_s[c] += dt * degC;
      step.highest_degC[c] = std::max(step.highest_degC[c], degC);
    }
  }
  void end(const energy::Ledger&) override {
    // One steady stretch has no course.
    if (begin_s_.size() > 2) courses.push_back(course());
  }

  std::size_t variant;
  std::vector<DutyCourse> courses;

 private:
  DutyCourse course() const {
    DutyCourse course{.duty = duty_, .time_s = {}, .oil_degC = {}, .contacts = {}};
    for (const std::size_t p : contacts_)
      course.contacts.push_back({nominal_.variant.unit.parts[p].id, {}, {}});
    for (const Step& step : steps_) {
      if (!(step.running_s > 0.0)) continue;
      course.time_s.push_back(step.time_s2 / step.running_s);
      course.oil_degC.push_back(step.oil_degC_s / step.running_s);
      for (std::size_t c = 0; c < contacts_.size(); ++c) {
        course.contacts[c].mean_degC.push_back(step.contact_degC_s[c] / step.running_s);
        course.contacts[c].highest_degC.push_back(step.highest_degC[c]);
      }
    }
    return course;
  }

  const Nominal& nominal_;
  const std::vector<std::size_t> contacts_;  ///< parts
  // Of the duty that is under way:
  std::string duty_;
  const energy::Stretch* first_ = nullptr;
  std::vector<double> begin_s_;  ///< of every stretch, and the end of the last
  std::vector<Step> steps_;
};

DutyCourses::DutyCourses() = default;
DutyCourses::~DutyCourses() = default;

void DutyCourses::join(Walker& walker) {
  walker.onlookers.push_back(lanes_.emplace_back(std::make_unique<CourseLane>(walker)).get());
}

void DutyCourses::fill(std::vector<VariantFindings>& findings) const {
  for (const auto& lane : lanes_) findings.at(lane->variant).courses = lane->courses;
}

}  // namespace ohmdrag::study

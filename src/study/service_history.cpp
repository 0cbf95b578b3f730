#include "study/service_history.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <exception>

#include "study/contact_course.hpp"
#include "study/ensemble.hpp"
#include "study/quick_duty.hpp"
#include "study/service.hpp"
#include "study/trips.hpp"

namespace ohmdrag::study {
namespace {

/// Of rubbers and of what states none: 90 kJ/mol over the gas constant.
constexpr double usual_activation_K = 10825.0;

bool has_service(const Element& element) {
  const auto known = [](const auto* form) {
    return form && !std::holds_alternative<std::monostate>(form->service);
  };
  return known(std::get_if<LipElement>(&element.form)) ||
         known(std::get_if<RingElement>(&element.form)) ||
         known(std::get_if<BrushElement>(&element.form));
}

/// Collects one contact's way and temperatures.
struct Track {
  std::size_t part;
  std::size_t shaft;
  std::size_t contact;  ///< of this shaft
  contact::AgeingMean temperature;
  double way_m = 0.0;
  double time_s = 0.0;
};

class Tracks {
 public:
  explicit Tracks(const VariantModel& variant) : variant_(variant) {
    for (std::size_t p = 0; p < variant.unit.parts.size(); ++p)
      if (const auto* here = std::get_if<energy::ContactPart>(&variant.unit.parts[p].form))
        tracks_.push_back({p, here->shaft, here->contact,
                           contact::AgeingMean(activation_of(*variant.parts[p].element))});
  }

  /// Losses in the order of the unit's parts; `times` how often this stretch comes in the service.
  void add(std::span<const energy::PartLoss> losses, std::span<const AngularVelocity> speed,
           Time dt, double times) {
    const Time whole = times * dt;
    for (Track& track : tracks_) add(track, speed[track.shaft], *losses[track.part].contact, whole);
  }

  /// A whole duty.
  /// \param oil_K  at the start of each stretch
  void add(std::span<const energy::Stretch> duty, std::span<const double> oil_K,
           std::span<const Temperature> dry, double times) {
    for (std::size_t s = 0; s < variant_.unit.shafts.size(); ++s) {
      const auto course = contact_course_K(variant_.unit.shafts[s], s, duty, oil_K, dry[s]);
      for (Track& track : tracks_) {
        if (track.shaft != s) continue;
        for (std::size_t i = 0; i < duty.size(); ++i)
          if (!duty[i].parked)
            add(track, duty[i].speed[s], Temperature::from_value(course[track.contact][i]),
                times * duty[i].dt);
      }
    }
  }

  ServiceHistory history() const {
    ServiceHistory result;
    for (const Track& track : tracks_)
      if (track.time_s > 0.0)
        result.contacts.push_back({variant_.parts[track.part].id,
                                   {Time::from_value(track.time_s), Length::from_value(track.way_m),
                                    track.temperature.mean()}});
    return result;
  }

 private:
  void add(Track& track, AngularVelocity speed, Temperature contact, Time time) const {
    if (speed == AngularVelocity{}) return;  // rest ages nothing
    const Length radius = 0.5 * variant_.unit.shafts[track.shaft].diameter;
    track.way_m += std::abs(rim_speed(speed, radius).value()) * time.value();
    track.time_s += time.value();
    track.temperature.add(contact, time);
  }

  const VariantModel& variant_;
  std::vector<Track> tracks_;
};

/// How often each duty of the case comes in the service; empty if nothing says so.
std::vector<double> repetitions(const Case& question, const Case& world,
                                const QuickDuties& duties) {
  const ServiceMix mix = service_mix(question);
  std::vector<double> result;
  double total = 0.0;  // metres or seconds
  if (mix.driven) {
    if (question.service.distance) total = question.service.distance->mid();
  } else {
    const auto a_year = hours_a_year(question, mix);
    if (question.service.hours)
      total = question.service.hours->mid();
    else if (question.service.years && a_year)
      total = 3600.0 * *a_year * question.service.years->mid();
  }
  if (!(total > 0.0)) return result;
  for (std::size_t d = 0; d < world.duties.size(); ++d) {
    double once = 0.0;
    for (const energy::Stretch& stretch : duties.way(d).stretches)
      once += mix.driven ? stretch.distance.value() : stretch.dt.value();
    for_each_trip(question.duties[d],
                  [&](const duty::Trip& trip) { once += trip.report.distance.value(); });
    result.push_back(once > 0.0 ? mix.share[d] * total / once : 0.0);
  }
  return result;
}

/// A part that is replaced ages from one change to the next.
void cut(ServiceHistory& history, const std::string& id,
         const std::optional<Uncertain<Time>>& replaced_every) {
  const auto entry = std::ranges::find(history.contacts, id, &ServiceHistory::Entry::id);
  if (!replaced_every || entry == history.contacts.end()) return;
  const double share = (replaced_every->nominal() / entry->whole.age);
  if (!(share < 1.0)) return;
  entry->whole.age = share * entry->whole.age;
  entry->whole.way = share * entry->whole.way;
}

}  // namespace

TemperatureDifference activation_of(const Element& element) {
  const auto* lip = std::get_if<LipElement>(&element.form);
  const auto* wedge = lip ? std::get_if<LipService>(&lip->service) : nullptr;
  return wedge ? wedge->relaxation.activation_temperature.nominal()
               : TemperatureDifference::from_value(usual_activation_K);
}

ServiceHistory service_history(const Case& question, const Case& world, const Variant& variant) {
  const bool any_service = (variant.seal && has_service(variant.seal->element)) ||
                           (variant.grounding && has_service(variant.grounding->element)) ||
                           std::ranges::any_of(variant.extras, [](const ExtraDrag& extra) {
                             return has_service(extra.element);
                           });
  if (!any_service) return {};
  const Draw nominal;
  const WorldModel model(world, nominal, Films::left_out);
  const VariantModel fresh(model, variant, nominal, {});
  Tracks tracks(fresh);

  if (!world.duties.empty()) {
    QuickDuties duties(model, nominal, nullptr, DutyFigures::energies);
    const std::vector<double> times = repetitions(question, world, duties);
    const bool lives = std::ranges::any_of(times, [](double often) { return often > 0.0; });
    const QuickDuties::Marched marched =
        lives ? duties.march({&fresh, 1}).front() : QuickDuties::Marched{};
    for (std::size_t d = 0; d < times.size(); ++d) {
      if (!(times[d] > 0.0)) continue;
      const Duty& duty = world.duties[d];
      if (duty.trips.empty()) {
        if (marched[d].failure) std::rethrow_exception(marched[d].failure);
        tracks.add(duties.way(d).stretches, marched[d].oil_K, model.dry, times[d]);
      }
      for_each_trip(duty, [&](const duty::Trip& trip) {
        const DutyModel way = trip_model(model, duty, trip, nominal);
        energy::march(fresh.unit, way.stretches, way.phases.size(), way.sump, model.dry,
                      [&](const energy::Moment& moment) {
                        tracks.add(moment.losses, moment.stretch.speed, moment.stretch.dt,
                                   times[d]);
                      });
      });
    }
  } else if (world.service.hours) {
    struct Turning {
      std::vector<AngularVelocity> speed;
      std::vector<energy::PartLoss> losses;
    };
    std::vector<Turning> turning;
    for (const OperatingPoint& point : world.points) {
      const auto speed = model.speeds(point, nominal);
      if (std::ranges::all_of(speed, [](AngularVelocity n) { return n == AngularVelocity{}; }))
        continue;
      const auto torque = model.torques(point, nominal);
      turning.push_back({speed, energy::losses_at(fresh.unit, {speed, torque, model.dry,
                                                               nominal(point.oil_temperature)})});
    }
    for (const Turning& point : turning)
      tracks.add(point.losses, point.speed, world.service.hours->nominal(),
                 1.0 / double(turning.size()));
  }
  ServiceHistory history = tracks.history();
  if (variant.seal) cut(history, "seal", variant.seal->replaced_every);
  if (variant.grounding) cut(history, "grounding", variant.grounding->replaced_every);
  return history;
}

std::vector<ServiceHistory> service_histories(const Case& question) {
  const std::vector<Variant>& variants = question.variants;
  std::vector<ServiceHistory> found(variants.size());
  std::vector<std::exception_ptr> failures(variants.size());
  const auto take = [&](std::size_t v) {
    try {
      found[v] = service_history(question, world_of(question, variants[v]), variants[v]);
    } catch (...) {
      failures[v] = std::current_exception();
    }
  };
  const auto reads_files = [&](std::size_t v) {
    return std::ranges::any_of(world_of(question, variants[v]).duties,
                               [](const Duty& duty) { return !duty.trips.empty(); });
  };
  oneapi::tbb::parallel_for(std::size_t{0}, variants.size(), [&](std::size_t v) {
    if (!reads_files(v)) take(v);
  });
  for (std::size_t v = 0; v < variants.size(); ++v) {
    if (reads_files(v)) take(v);
    if (failures[v]) std::rethrow_exception(failures[v]);
  }
  return found;
}

}  // namespace ohmdrag::study

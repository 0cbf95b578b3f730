#include "ohmdrag/study/rig_comparison_run.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <stdexcept>

#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/study/visit.hpp"
#include "study/ensemble.hpp"
#include "study/rig_comparison.hpp"

namespace ohmdrag::study {
namespace {

/// Intervals of temperatures need two digits.
constexpr int comparison_draws = 100;
/// Readings that differ by less are alike; common practice, no source.
constexpr double alike = 0.05;

const rig::ShownIn per_minute{"1/min", from_rpm(1.0).value()}, metres_per_second{"m/s"},
    celsius{"°C", 1.0, kelvin_at_zero_celsius}, kelvins{"K"}, watts{"W"};

const Variant& variant_of(const RigComparison& run) {
  const auto found = std::ranges::find(run.question->variants, run.variant, &Variant::id);
  if (found == run.question->variants.end())
    throw std::invalid_argument(
        fmt::format("variant: the case has no variant \"{}\"", run.variant));
  return *found;
}

/// A speed over all draws.
struct Speeds {
  AngularVelocity speed;
  RigPoint middle;
  Interval rig_K, application_K, hotter_K, air_K;
  std::optional<Interval> reading;  ///< R_rig/R by what is known
};

std::optional<double> reading_of(const RigPoint& point) {
  if (!point.by_temperature && !point.by_force_and_diameter) return std::nullopt;
  return point.by_temperature.value_or(1.0) * point.by_force_and_diameter.value_or(1.0);
}

class Comparison {
 public:
  explicit Comparison(const RigComparison& run)
      : run_(run),
        variant_(variant_of(run)),
        world_(world_of(*run.question, variant_)),
        on_rig_(rig_world(run, world_, variant_)),
        middle_(run, world_, variant_, on_rig_, Draw()) {}

  rig::RunFindings findings() {
    out_ = run_.head;
    compare();
    say_what_it_was();
    say_the_temperatures();
    say_the_reading();
    say_the_heat();
    add_programme(out_, run_, middle_);
    out_.model =
        "Contacts on a shaft with cooled sides, the same for rig and application, at equal sliding "
        "speed";
    out_.no_entry = "a comparison holds no parameter of a case";
    out_.cautions.emplace_back(
        "Rigs have rotating shafts and hot parts: guard them, and let qualified persons run them; "
        "local rules come first.");
    return std::move(out_);
  }

 private:
  Draws draws() const {
    std::vector<const UncertainNumber*> numbers;
    const auto take = [&](const UncertainNumber& number) { numbers.push_back(&number); };
    for_each_number(*run_.question, take);
    for_each_number(on_rig_.world, take);
    take(run_.oil);
    take(run_.rig.held);
    if (run_.rig.enclosure) {
      take(run_.rig.enclosure->conductance);
      take(run_.rig.enclosure->room);
      if (run_.rig.enclosure->other_heat) take(*run_.rig.enclosure->other_heat);
    }
    return {numbers, comparison_draws, run_.question->seed};
  }

  void compare() {
    const Draws draws = this->draws();
    std::vector<std::vector<RigPoint>> points(run_.rig.speeds.size());
    for (int d = 0; d < comparison_draws; ++d) {
      const RigPair pair(run_, world_, variant_, on_rig_, Draw(draws, d));
      for (std::size_t i = 0; i < points.size(); ++i)
        points[i].push_back(pair.at(run_.rig.speeds[i]));
    }
    for (std::size_t i = 0; i < points.size(); ++i) {
      const auto over = [&](const auto& figure) {
        std::vector<double> values;
        for (const RigPoint& point : points[i]) values.push_back(figure(point));
        return interval_of(std::move(values));
      };
      Speeds at{run_.rig.speeds[i],
                middle_.at(run_.rig.speeds[i]),
                over([](const RigPoint& p) { return p.rig_K; }),
                over([](const RigPoint& p) { return p.application_K; }),
                over([](const RigPoint& p) { return p.rig_K - p.application_K; }),
                over([](const RigPoint& p) { return p.air_K; }),
                {}};
      if (reading_of(at.middle))
        at.reading = over([](const RigPoint& p) { return reading_of(p).value_or(1.0); });
      speeds_.push_back(std::move(at));
    }
  }

  void say_what_it_was() {
    out_.conditions.emplace_back(
        "Application",
        fmt::format(
            "{} of variant {} of {}, oil {}", run_.contact, run_.variant,
            std::filesystem::path(run_.question->provenance.file).lexically_normal().string(),
            run_.oil_from));
    std::string elements;
    for (const RigElement& element : run_.rig.elements)
      elements += fmt::format("{}{} ({}) at {:.4g} mm", elements.empty() ? "" : ", ", element.id,
                              element.of, 1e3 * element.position.nominal().value());
    out_.conditions.emplace_back("Rig",
                                 fmt::format("{:.4g} mm shaft, {:.4g} mm long, with {}; {}",
                                             1e3 * run_.rig.diameter.nominal().value(),
                                             1e3 * run_.rig.length.nominal().value(), elements,
                                             run_.rig.air ? "air measured" : "air shut in"));
  }

  void say_the_temperatures() {
    rig::RunTable table{"temperatures",
                        "Contact temperature at equal sliding speed",
                        {{"sliding_m_per_s", "sliding", metres_per_second},
                         {"rig_speed_rad_per_s", "rig speed", per_minute},
                         {"rig_K", "on the rig", celsius},
                         {"application_K", "in the application", celsius},
                         {"hotter_K", "rig hotter by", kelvins},
                         {"rig_air_K", "air of the rig", celsius},
                         {"reading_factor", "rig reads, times"}},
                        {}};
    for (const Speeds& at : speeds_)
      table.rows.push_back({at.middle.sliding_m_s, at.speed.value(), at.rig_K, at.application_K,
                            at.hotter_K, at.air_K,
                            at.reading ? rig::RunCell(*at.reading) : rig::RunCell()});
    out_.tables.push_back(std::move(table));

    rig::RunTable elements{
        "elements",
        fmt::format("Wear points of the rig at {:.0f} 1/min", in_rpm(speeds_.back().speed)),
        {{"element", "element"},
         {"of", "contact"},
         {"contact_K", "contact", celsius},
         {"shaft_K", "shaft below", celsius},
         {"power_W", "friction", watts}},
        {}};
    const component::ShaftState& state = speeds_.back().middle.state.shaft;
    std::vector<RigElement> along = run_.rig.elements;
    std::ranges::stable_sort(
        along, {}, [](const RigElement& element) { return element.position.nominal().value(); });
    for (std::size_t i = 0; i < along.size(); ++i)
      elements.rows.push_back({along[i].id, along[i].of, state.contacts[i].contact.value(),
                               state.contacts[i].shaft_under.value(),
                               state.contacts[i].power.value()});
    out_.tables.push_back(std::move(elements));

    const Speeds& fastest = speeds_.back();
    const auto figure = [&](const char* key, const char* name, const rig::ShownIn& shown,
                            const Interval& value) {
      rig::RunFigure told{key, name, shown, {}, false};
      told.told = {{value.mid, {}, std::pair{value.low, value.high}}};
      out_.figures.push_back(std::move(told));
    };
    figure("rig_contact_K", "contact on the rig, fastest", celsius, fastest.rig_K);
    figure("application_contact_K", "contact in the application", celsius, fastest.application_K);
    figure("hotter_K", "rig hotter by", kelvins, fastest.hotter_K);
    if (fastest.reading)
      figure("reading_factor", "rig reads, times", {}, *fastest.reading);
    else
      out_.figures.push_back({"reading_factor", "rig reads, times", {}, {}, false});
  }

  void say_the_reading() {
    const bool hotter =
        std::ranges::all_of(speeds_, [](const Speeds& at) { return at.hotter_K.low > 0.0; });
    const bool cooler =
        std::ranges::all_of(speeds_, [](const Speeds& at) { return at.hotter_K.high < 0.0; });
    std::string temperature = hotter   ? "The rig's contact is the hotter one at every speed"
                              : cooler ? "The rig's contact is the cooler one at every speed"
                                       : "Which contact is hotter is not sure at every speed";
    const RigPoint& fastest = speeds_.back().middle;
    std::string parts;
    if (fastest.by_temperature)
      parts += fmt::format("; by its temperature coefficient the rig reads {} times",
                           print_number(*fastest.by_temperature, 3));
    if (fastest.by_force_and_diameter)
      parts += fmt::format("; by force and diameter {} times",
                           print_number(*fastest.by_force_and_diameter, 3));
    out_.quality.emplace_back(
        "Influences",
        temperature + parts +
            fmt::format(
                "; a film that grows, grows {} on the rig, by an amount that no constant of "
                "the case tells.",
                hotter   ? "faster"
                : cooler ? "more slowly"
                         : "at another rate"));
    out_.quality.emplace_back("Upper bound", bound_in_words(hotter, cooler));
  }

  std::string bound_in_words(bool hotter, bool cooler) const {
    return bound(hotter, cooler) +
           " Common practice, no source: contacts on a rig run hotter and read higher.";
  }

  /// What the factors of all speeds and a film that grows say together.
  std::string bound(bool hotter, bool cooler) const {
    if (!speeds_.back().reading)
      return "Not told: the case has no law of this contact's resistance, so it does not say what "
             "temperature, force and diameter do to it.";
    const std::string times = fmt::format("{} to {} times", print_number(lowest_reading(), 3),
                                          print_number(highest_reading(), 3));
    if (cooler)
      return fmt::format(
          "The impedance read on the rig is no upper bound: it reads {} that of the application as "
          "both begin, and films grow more slowly on the cooler rig. Warm the rig.",
          times);
    if (lowest_reading() >= 1.0)
      return fmt::format(
          "The impedance read on the rig is an upper bound for the application as long as both are "
          "equally clean and dry: it reads {} that of the application{}.",
          times, hotter ? ", and films grow faster on the hotter rig" : "");
    if (hotter && lowest_reading() > 1.0 - alike && highest_reading() < 1.0 + alike)
      return fmt::format(
          "As both begin, the rig reads {} what the application does; films grow faster on the "
          "hotter rig. With an allowance of {} % the impedance read on it is an upper bound.",
          times, print_number(100.0 * (1.0 - lowest_reading()), 2));
    if (highest_reading() < 1.0)
      return fmt::format(
          "The impedance read on the rig is no upper bound: it reads {} that of the application. "
          "Only a film that grows faster on the hotter rig could turn that, and how much is not "
          "known: divide the reading by the factor, or match the temperatures.",
          times);
    return fmt::format(
        "Whether the impedance read on the rig is an upper bound cannot be told: it reads {} that "
        "of the application. Match force, diameter and temperature, or take the factor into the "
        "uncertainty.",
        times);
  }

  double lowest_reading() const {
    return std::ranges::min(speeds_, {}, [](const Speeds& at) { return at.reading->low; })
        .reading->low;
  }
  double highest_reading() const {
    return std::ranges::max(speeds_, {}, [](const Speeds& at) { return at.reading->high; })
        .reading->high;
  }

  void say_the_heat() {
    const rig::RigState& state = speeds_.back().middle.state;
    std::string text = fmt::format(
        "{} W of friction at {:.0f} 1/min: {} W into the {}, {} W into the air",
        print_number(state.friction.value(), 4), in_rpm(speeds_.back().speed),
        print_number(state.into_held_side.value(), 4), run_.rig.wet_until ? "oil" : "spindle",
        print_number(state.into_air.value(), 4));
    if (run_.rig.enclosure)
      text += fmt::format(", which gives {} W to the room",
                          print_number(state.through_housing.value(), 4));
    out_.quality.emplace_back("Heat of the rig", text + '.');
  }

  const RigComparison& run_;
  const Variant& variant_;
  const Case& world_;
  RigWorld on_rig_;
  RigPair middle_;
  std::vector<Speeds> speeds_;
  rig::RunFindings out_;
};

}  // namespace

rig::RunFindings fit_run(const RigComparison& run) {
  try {
    return Comparison(run).findings();
  } catch (const std::domain_error& error) {
    throw std::invalid_argument(
        fmt::format("a contact refuses a speed of the rig: {}", error.what()));
  }
}

}  // namespace ohmdrag::study

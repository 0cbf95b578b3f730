// The duties of every shipped case, marched by tables and columns as an ensemble does it, against
// the same stretch by stretch: derived, nothing outside the project knows this figure.

#include <filesystem>

#include "ohmdrag/input/load_case.hpp"
#include "ohmdrag/study/visit.hpp"
#include "study/ensemble.hpp"
#include "study/quick_duty.hpp"
#include "study/sections.hpp"
#include "study/service_history.hpp"
#include "study/unit_samples.hpp"
#include "support/in_source.hpp"
#include "support/near.hpp"

using namespace ohmdrag;

namespace {

std::vector<std::filesystem::path> shipped_cases() {
  std::vector<std::filesystem::path> found;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(test::in_source("cases")))
    if (entry.path().filename() == "case.toml") found.push_back(entry.path());
  std::ranges::sort(found);
  return found;
}

/// Relative, or both next to nothing.
bool close(double a, double b, double relative, double nothing) {
  return std::abs(a - b) <= relative * std::max(std::abs(a), std::abs(b)) + nothing;
}

void compare_energies(const study::DutySample& quick, const study::DutySample& exact) {
  // 1e-5 of all that the unit takes in the phase.
  for (std::size_t phase = 0; phase < exact.phases.size(); ++phase) {
    const auto& a = quick.phases[phase];
    const auto& b = exact.phases[phase];
    CHECK(a.time_s == b.time_s);
    CHECK(a.distance_m == b.distance_m);
    double whole_J = 0.0;
    for (const double part_J : b.shaft_J) whole_J += std::abs(part_J);
    for (std::size_t p = 0; p < b.shaft_J.size(); ++p) {
      CAPTURE(p, a.shaft_J[p], b.shaft_J[p]);
      CHECK(std::abs(a.shaft_J[p] - b.shaft_J[p]) <= 1e-5 * whole_J);
    }
  }
  CHECK(std::abs(quick.end_oil_degC - exact.end_oil_degC) <= 1e-4);
  for (std::size_t s = 0; s < exact.worth.size(); ++s) {
    CHECK(close(quick.worth[s].of_watt.battery_J, exact.worth[s].of_watt.battery_J, 1e-12, 0.0));
    CHECK(close(quick.worth[s].of_Nm.shaft_J, exact.worth[s].of_Nm.shaft_J, 1e-12, 0.0));
  }
}

void compare_bearings(const study::BearingSample& quick, const study::BearingSample& exact) {
  using Sample = study::BearingSample;
  // A stretch whose voltage lies within 1e-5 of its threshold may fall to either side.
  constexpr double two_stretches_s = 2.0;
  for (const auto figure : {&Sample::striking_s, &Sample::expected_s, &Sample::conducting_s})
    CHECK(std::abs(quick.*figure - exact.*figure) <= two_stretches_s);
  for (std::size_t c = 0; c < exact.striking_by_credit_s.size(); ++c)
    CHECK(std::abs(quick.striking_by_credit_s[c] - exact.striking_by_credit_s[c]) <=
          two_stretches_s);
  for (const auto figure : {&Sample::damage, &Sample::turning_s, &Sample::overloaded_s})
    CHECK(close(quick.*figure, exact.*figure, 1e-9, 0.0));
  for (const auto figure :
       {&Sample::modified_damage, &Sample::kappa_s, &Sample::thin_modified_damage, &Sample::thin_s})
    CHECK(close(quick.*figure, exact.*figure, 1e-5, 1e-12));
  for (const auto figure : {&Sample::discharges, &Sample::energy_J, &Sample::dose_J_m2,
                            &Sample::undosed, &Sample::electrical_damage}) {
    CAPTURE(quick.*figure, exact.*figure);
    CHECK(close(quick.*figure, exact.*figure, 1e-4, 1e-9));
  }
}

void compare_duties(const study::Case& question, const study::Draw& draw,
                    const study::QuickDuties* like_of_first) {
  for (const study::Variant& entry : question.variants) {
    CAPTURE(entry.id);
    const study::Case& world = study::world_of(question, entry);
    const study::ServiceHistory history = study::service_history(question, world, entry);
    const study::WorldModel model(world, draw);
    const study::VariantModel variant(model, entry, draw, history);
    std::optional<study::ElectricModel> electric;
    if (study::has_electrics(world)) electric.emplace(model, variant, draw);
    const study::ElectricModel* const strikes = electric ? &*electric : nullptr;
    study::QuickDuties duties(model, draw, &world == &question ? like_of_first : nullptr);
    const auto quick = duties.samples(variant, strikes);
    study::QuickDuties without_lives(model, draw, nullptr, study::DutyFigures::energies);
    const auto energies = without_lives.samples(variant, nullptr);
    for (std::size_t d = 0; d < world.duties.size(); ++d) {
      CAPTURE(world.duties[d].id);
      if (!world.duties[d].trips.empty()) continue;
      CHECK(close(energies[d].end_oil_degC, quick[d].end_oil_degC, 1e-12, 0.0));
      for (std::size_t phase = 0; phase < quick[d].phases.size(); ++phase)
        for (std::size_t p = 0; p < variant.parts.size(); ++p)
          CHECK(close(energies[d].phases[phase].shaft_J[p], quick[d].phases[phase].shaft_J[p],
                      1e-12, 0.0));
      const study::DutyModel duty = study::duty_model(model, world.duties[d], draw);
      const study::DutySample exact = study::duty_sample(model, variant, duty, strikes);
      compare_energies(quick[d], exact);
      REQUIRE(quick[d].bearings.size() == exact.bearings.size());
      for (std::size_t b = 0; b < exact.bearings.size(); ++b)
        compare_bearings(quick[d].bearings[b], exact.bearings[b]);
    }
  }
}

}  // namespace

TEST_CASE("quick duties of every shipped case are those of the march", "[input]") {
  for (const auto& file : shipped_cases()) {
    CAPTURE(file.parent_path().filename());
    const study::Case question = input::load_case(file.string());
    std::vector<const UncertainNumber*> numbers;
    study::for_each_number(question,
                           [&](const UncertainNumber& number) { numbers.push_back(&number); });
    constexpr int count = 3;
    const study::Draws draws(numbers, count, 11);
    const study::Draw nominal;
    const study::WorldModel model(question, nominal);
    study::QuickDuties like(model, nominal, nullptr);
    const study::VariantModel first(
        model, question.variants.front(), nominal,
        study::service_history(question, question, question.variants.front()));
    std::optional<study::ElectricModel> electric;
    if (study::has_electrics(question)) electric.emplace(model, first, nominal);
    like.prepare(first, electric ? &*electric : nullptr);
    compare_duties(question, nominal, nullptr);
    for (int i = 0; i < count; ++i) {
      CAPTURE(i);
      compare_duties(question, study::Draw(draws, i), &like);
    }
  }
}

namespace {

/// Of one contact of a variant, stretch by stretch, everything at its middle.
contact::History marched_history(const study::Case& question, const study::Case& world,
                                 const study::Variant& entry, const std::string& id) {
  const study::Draw nominal;
  const study::WorldModel model(world, nominal, study::Films::left_out);
  const study::VariantModel fresh(model, entry, nominal, {});
  const auto place = std::ranges::find(fresh.parts, id, &study::PartInfo::id);
  const auto p = static_cast<std::size_t>(place - fresh.parts.begin());
  const std::size_t shaft = std::get<energy::ContactPart>(fresh.unit.parts[p].form).shaft;
  const study::ServiceMix mix = study::service_mix(question);
  contact::AgeingMean temperature(study::activation_of(*fresh.parts[p].element));
  contact::History history{};
  for (std::size_t d = 0; d < world.duties.size(); ++d) {
    if (!(mix.share[d] > 0.0)) continue;
    const study::DutyModel way = study::duty_way(model, world.duties[d], nominal);
    double once = 0.0;
    for (const energy::Stretch& stretch : way.stretches)
      once += mix.driven ? stretch.distance.value() : stretch.dt.value();
    energy::march(
        fresh.unit, way.stretches, way.phases.size(), way.sump, model.dry,
        [&](const energy::Moment& moment) {
          const AngularVelocity speed = moment.stretch.speed[shaft];
          if (speed == AngularVelocity{}) return;
          const Time whole = mix.share[d] / once * moment.stretch.dt;
          history.age += whole;
          history.way += Length::from_value(
              std::abs(rim_speed(speed, 0.5 * fresh.unit.shafts[shaft].diameter).value()) *
              whole.value());
          temperature.add(*moment.losses[p].contact, whole);
        });
  }
  history.temperature = temperature.mean();
  return history;
}

}  // namespace

TEST_CASE("histories of every shipped case are those of the march", "[input]") {
  std::size_t compared = 0;
  for (const auto& file : shipped_cases()) {
    CAPTURE(file.parent_path().filename());
    const study::Case question = input::load_case(file.string());
    for (const study::Variant& entry : question.variants) {
      const study::Case& world = study::world_of(question, entry);
      if (world.duties.empty() || std::ranges::any_of(world.duties, [](const study::Duty& duty) {
            return !duty.trips.empty();
          }))
        continue;
      for (const auto& found : study::service_history(question, world, entry).contacts) {
        CAPTURE(entry.id, found.id);
        const contact::History exact = marched_history(question, world, entry, found.id);
        CHECK(std::abs((found.whole.temperature - exact.temperature).value()) <= 1e-3);
        // Parts that are replaced have a share of both: a speed stays.
        CHECK(close((found.whole.way / found.whole.age).value(), (exact.way / exact.age).value(),
                    1e-9, 0.0));
        ++compared;
      }
    }
  }
  CHECK(compared > 10);
}

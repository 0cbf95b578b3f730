#include "study/ensemble.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <complex>
#include <numeric>
#include <stdexcept>

#include "ohmdrag/study/visit.hpp"
#include "study/account.hpp"
#include "study/adaptive.hpp"
#include "study/decisive_part.hpp"
#include "study/electric.hpp"
#include "study/naming.hpp"
#include "study/parts_share.hpp"
#include "study/quick_duty.hpp"
#include "study/sections.hpp"
#include "study/service_history.hpp"
#include "study/trips.hpp"
#include "study/unit_samples.hpp"

namespace ohmdrag::study {
namespace {

constexpr std::array shown_Hz{10.0, 100.0, 1e3, 1e4, 1e5, 1e6, 5e6, 1e7, 1e8};

/// The frequencies that the report shows and the requirements ask for, rising.
std::vector<Frequency> frequencies_of(const Case& question) {
  std::vector<Frequency> result;
  for (const double f : shown_Hz) result.push_back(Frequency::from_value(f));
  for (const Requirement& requirement : question.requirements)
    for (const Frequency& f : requirement.band) result.push_back(f);
  if (question.inverter) result.push_back(question.inverter->switching_frequency.nominal());
  std::sort(result.begin(), result.end());
  result.erase(std::unique(result.begin(), result.end()), result.end());
  return result;
}

/// Over the frequencies; infinite where no path is left.
std::vector<double> impedance_ohm(const std::optional<voltage::GroundingPath>& path,
                                  const std::vector<Frequency>& frequencies) {
  std::vector<double> result;
  result.reserve(frequencies.size());
  for (const Frequency& f : frequencies)
    result.push_back(path ? std::abs(voltage::impedance_ohm(*path, f))
                          : std::numeric_limits<double>::infinity());
  return result;
}

void sample_path(const VariantModel& variant, const std::vector<Frequency>& frequencies,
                 VariantSample& sample) {
  if (!variant.grounded) return;
  for (std::size_t a = 0; a < ages.size(); ++a) {
    const auto& path = variant.path[a];
    sample.impedance_ohm[a] = impedance_ohm(path, frequencies);
    sample.resistance_ohm[a] =
        path ? voltage::direct_resistance(*path).value() : std::numeric_limits<double>::infinity();
  }
}

/// The same of the contact as it runs at a point.
void sample_path(const WorldModel& model, const VariantModel& variant, const OperatingPoint& point,
                 const std::vector<Frequency>& frequencies, const Draw& draw, PointSample& sample) {
  if (!variant.grounded) return;
  const auto part = std::ranges::find(variant.parts, "grounding", &PartInfo::id);
  const double degC =
      sample.parts[static_cast<std::size_t>(part - variant.parts.begin())].contact_degC;
  const auto contact = std::isnan(degC) ? std::nullopt : std::optional(from_celsius(degC));
  const AngularVelocity speed = model.speeds(point, draw)[part->shaft];
  for (const Age age : ages)
    sample.impedance_ohm[static_cast<std::size_t>(age)] =
        impedance_ohm(variant.path_at(age, speed, contact), frequencies);
}

std::vector<ContactSample> contact_samples(const VariantModel& variant) {
  std::vector<ContactSample> result;
  result.reserve(variant.lives.size());
  for (const LivingContact& living : variant.lives) {
    ContactSample sample;
    for (const Age age : ages) {
      const auto a = static_cast<std::size_t>(age);
      sample.line_force_N_m[a] = living.life.line_force(age).value();
      sample.width_m[a] = living.life.of(age).width.value();
    }
    const contact::Aged& end = living.life.of(Age::end);
    sample.wear_m = end.wear.value();
    if (end.groove) sample.groove_m = end.groove->value();
    if (end.length_used && living.life.history)
      sample.worn_out_s = living.life.history->age.value() / *end.length_used;
    if (living.life.density && living.life.history) {
      const Length around = std::numbers::pi * variant.unit.shafts[living.shaft].diameter;
      sample.debris_kg_per_s =
          (*living.life.density * end.worn * around / living.life.history->age).value();
    }
    result.push_back(sample);
  }
  return result;
}

bool marches_duties(const Ensemble& ensemble) {
  const Sections& asked = ensemble.sections;
  return asked.energy || asked.life || (asked.budget && account_names_a_duty(*ensemble.question));
}

/// Its table of stresses costs as much as a short duty: only where a section asks for it.
bool asks_for_electrics(const Ensemble& ensemble, const Case& world) {
  return has_electrics(world) && (ensemble.sections.voltage || ensemble.sections.life);
}

/// A world with its duties and its source in one draw.
struct WorldInDraw {
  /// \param like  in the nominal draw: what does not hang on the draw is taken over; null for that
  ///              draw itself
  WorldInDraw(const Ensemble& ensemble, const Case& world, const Draw& draw,
              const WorldInDraw* like)
      : model(world, draw,
              asks_for_electrics(ensemble, world) ? Films::prepared : Films::left_out) {
    if (marches_duties(ensemble)) duties.emplace(model, draw, like ? &*like->duties : nullptr);
    if (asks_for_electrics(ensemble, world))
      source = std::make_shared<const SourceInDraw>(*world.inverter, draw,
                                                    like ? like->source.get() : nullptr);
  }

  WorldModel model;
  std::optional<QuickDuties> duties;
  std::shared_ptr<const SourceInDraw> source;
};

}  // namespace

/// The worlds of a case in the nominal draw, their duties laid out for all others.
class NominalWorlds {
 public:
  explicit NominalWorlds(const Ensemble& ensemble) {
    if (!marches_duties(ensemble)) return;
    const Case& question = *ensemble.question;
    const Draw nominal;
    for (std::size_t v = 0; v < question.variants.size(); ++v) {
      const Case& world = ensemble.world(v);
      if (of(world)) continue;
      naming(question.variants[v], [&] {
        auto here = std::make_unique<WorldInDraw>(ensemble, world, nominal, nullptr);
        if (here->source) here->source->speeds->prepare();
        const VariantModel unit(here->model, question.variants[v], nominal, ensemble.histories[v]);
        std::optional<ElectricModel> electric;
        if (here->source && ensemble.sections.life)
          electric.emplace(here->model, unit, nominal, Age::end, here->source);
        here->duties->prepare(unit, electric ? &*electric : nullptr);
        worlds_.push_back(std::move(here));
      });
    }
  }

  /// Null where no duty is marched.
  const WorldInDraw* of(const Case& world) const {
    const auto found = std::ranges::find_if(
        worlds_, [&](const auto& here) { return here->model.world == &world; });
    return found == worlds_.end() ? nullptr : found->get();
  }

 private:
  std::vector<std::unique_ptr<WorldInDraw>> worlds_;
};

// Worlds and their duties are built once for the variants they share.
std::vector<VariantSample> samples_in(const Ensemble& ensemble, const Draw& draw,
                                      std::span<const std::size_t> variants) {
  const Case& question = *ensemble.question;
  std::vector<VariantSample> result;
  const Case* built_for = nullptr;
  std::unique_ptr<WorldInDraw> here;
  for (const std::size_t v : variants) {
    const Case& world = ensemble.world(v);
    if (&world != built_for) {
      here = std::make_unique<WorldInDraw>(ensemble, world, draw, ensemble.nominal->of(world));
      built_for = &world;
    }
    const WorldModel& model = here->model;
    const Variant& variant = question.variants[v];
    naming(variant, [&] {
      const VariantModel unit(model, variant, draw, ensemble.histories[v]);
      VariantSample sample;
      std::optional<ElectricModel> electric;
      if (here->source) electric.emplace(model, unit, draw, Age::end, here->source);
      // Watts of aged contacts are a figure of the budget alone.
      const bool asked = ensemble.sections.budget && !world.points.empty();
      const auto aged = asked ? aged_unit(unit) : std::nullopt;
      sample.points.reserve(world.points.size());
      for (const OperatingPoint& point : world.points) {
        sample.points.push_back(point_sample(model, unit, aged, point, draw));
        sample_path(model, unit, point, ensemble.frequencies, draw, sample.points.back());
      }
      if (electric && ensemble.sections.voltage)
        for (std::size_t p = 0; p < world.points.size(); ++p)
          sample.points[p].electric = electric->at(world.points[p], draw);
      if (here->duties)
        sample.duties =
            here->duties->samples(unit, electric && ensemble.sections.life ? &*electric : nullptr);
      sample_path(unit, ensemble.frequencies, sample);
      sample.contacts = contact_samples(unit);
      result.push_back(std::move(sample));
    });
  }
  return result;
}

namespace {

std::size_t index_of_baseline(const Case& question) {
  for (std::size_t v = 0; v < question.variants.size(); ++v)
    if (question.variants[v].id == question.baseline) return v;
  return 0;
}

}  // namespace

const Case& world_of(const Case& question, const Variant& variant) {
  return variant.world ? *variant.world : question;
}

const Case& Ensemble::world(std::size_t variant) const {
  return world_of(*question, question->variants[variant]);
}

std::vector<const UncertainNumber*> numbers_of(const Case& question) {
  std::vector<const UncertainNumber*> numbers;
  for_each_number(question, [&](const UncertainNumber& number) { numbers.push_back(&number); });
  return numbers;
}

void Ensemble::take(std::size_t first, std::size_t count) {
  std::vector<std::vector<VariantSample>> by_draw(count);
  std::vector<std::size_t> all(question->variants.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  oneapi::tbb::parallel_for(std::size_t{0}, by_draw.size(), [&](std::size_t i) {
    by_draw[i] = samples_in(*this, Draw(*draws, static_cast<int>(first + i)), all);
  });
  samples.resize(question->variants.size());
  for (auto& draw : by_draw)
    for (std::size_t v = 0; v < draw.size(); ++v) samples[v].push_back(std::move(draw[v]));
}

Ensemble::Ensemble(const Case& of, const Sections& asked, const TripProgress& progress)
    : question(&of),
      sections(asked),
      frequencies(frequencies_of(of)),
      baseline(index_of_baseline(of)) {
  for (const Variant& variant : of.variants)
    histories.push_back(service_history(of, world_of(of, variant), variant));
  nominal = std::make_shared<const NominalWorlds>(*this);
  const int count = of.samples > 0 ? of.samples : of.adaptive ? adaptive_block : default_samples;
  draws = std::make_unique<Draws>(numbers_of(of), count, of.seed, of.correlations);
  take(0, static_cast<std::size_t>(count));
  if (of.adaptive && of.samples == 0) stability = take_until_still(*this);
  parts = shares_of_parts(*this);
  if (marches_duties(*this)) march_trips(*this, progress);
}

Ensemble::Ensemble(const Ensemble& like, const Sections& asked, Draws other)
    : question(like.question),
      sections(asked),
      frequencies(like.frequencies),
      draws(std::make_unique<Draws>(std::move(other))),
      baseline(like.baseline),
      histories(like.histories),
      nominal(std::make_shared<const NominalWorlds>(*this)) {}

Ensemble ensemble_of_part(const Ensemble& like, const Case& part, const Sections& asked,
                          Draws other) {
  Ensemble result(like, Sections{}, std::move(other));  // without sections nothing is laid out yet
  result.question = &part;
  result.sections = asked;
  result.baseline = index_of_baseline(part);
  result.histories.clear();
  // Ids may come twice: variants of a scan differ in a number alone.
  const auto& all = like.question->variants;
  std::size_t from = 0;
  for (const Variant& variant : part.variants) {
    while (from < all.size() && all[from].id != variant.id) ++from;
    result.histories.push_back(like.histories.at(from++));
  }
  result.nominal = std::make_shared<const NominalWorlds>(result);
  return result;
}

}  // namespace ohmdrag::study

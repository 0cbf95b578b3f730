#include "study/ensemble.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <functional>
#include <numeric>
#include <stdexcept>

#include "ohmdrag/study/side_by_side.hpp"
#include "ohmdrag/study/visit.hpp"
#include "study/account.hpp"
#include "study/adaptive.hpp"
#include "study/contact_samples.hpp"
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

bool marches_duties(const Ensemble& ensemble) {
  const Sections& asked = ensemble.sections;
  return asked.energy || asked.life || (asked.budget && account_names_a_duty(*ensemble.question));
}

/// Its table of stresses costs as much as a short duty: only where a section asks for it.
bool asks_for_electrics(const Ensemble& ensemble, const Case& world) {
  return has_electrics(world) && (ensemble.sections.voltage || ensemble.sections.life);
}

DutyFigures duty_figures(const Sections& asked) {
  return asked.life && !asked.discharges_alone ? DutyFigures::all : DutyFigures::without_fatigue;
}

/// A world with its duties and its source in one draw.
struct WorldInDraw {
  /// \param like  in the nominal draw: what does not hang on the draw is taken over; null for that
  ///              draw itself
  WorldInDraw(const Ensemble& ensemble, const Case& world, const Draw& draw,
              const WorldInDraw* like)
      : model(world, draw,
              asks_for_electrics(ensemble, world) ? Films::prepared : Films::left_out) {
    if (marches_duties(ensemble))
      duties.emplace(model, draw, like ? &*like->duties : nullptr, duty_figures(ensemble.sections));
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

namespace {

/// One variant in one draw.
/// \param marched  over the duties; null where none are marched
VariantSample variant_sample(const Ensemble& ensemble, WorldInDraw& here, const VariantModel& unit,
                             const QuickDuties::Marched* marched, const Draw& draw) {
  const WorldModel& model = here.model;
  const std::vector<OperatingPoint>& points = model.world->points;
  VariantSample sample;
  std::optional<ElectricModel> electric;
  if (here.source) electric.emplace(model, unit, draw, Age::end, here.source);
  // Watts of aged contacts are a figure of the budget alone.
  const bool asked = ensemble.sections.budget && !points.empty();
  const auto aged = asked ? aged_unit(unit) : std::nullopt;
  sample.points.reserve(points.size());
  for (const OperatingPoint& point : points) {
    sample.points.push_back(point_sample(model, unit, aged, point, draw));
    sample_path(model, unit, point, ensemble.frequencies, draw, sample.points.back());
  }
  if (electric && ensemble.sections.voltage)
    for (std::size_t p = 0; p < points.size(); ++p)
      sample.points[p].electric = electric->at(points[p], draw);
  if (marched)
    sample.duties = here.duties->samples(
        unit, electric && ensemble.sections.life ? &*electric : nullptr, *marched);
  sample_path(unit, ensemble.frequencies, sample);
  sample.contacts = contact_samples(unit);
  return sample;
}

}  // namespace

// Worlds and their duties are built once for neighbours that share them, and these march side by
// side.
std::vector<VariantSample> samples_in(const Ensemble& ensemble, const Draw& draw,
                                      std::span<const std::size_t> variants) {
  const std::vector<Variant>& all = ensemble.question->variants;
  std::vector<VariantSample> result;
  result.reserve(variants.size());
  while (result.size() < variants.size()) {
    const auto rest = variants.subspan(result.size());
    const Case& world = ensemble.world(rest.front());
    const auto here_end =
        std::ranges::find_if(rest, [&](std::size_t v) { return &ensemble.world(v) != &world; });
    const auto together = rest.first(static_cast<std::size_t>(here_end - rest.begin()));
    WorldInDraw here(ensemble, world, draw, ensemble.nominal->of(world));
    std::vector<VariantModel> units;
    units.reserve(together.size());
    for (const std::size_t v : together)
      naming(all[v], [&] { units.emplace_back(here.model, all[v], draw, ensemble.histories[v]); });
    std::vector<QuickDuties::Marched> marched;
    if (here.duties) marched = here.duties->march(units);
    for (std::size_t u = 0; u < units.size(); ++u)
      naming(all[together[u]], [&] {
        result.push_back(
            variant_sample(ensemble, here, units[u], here.duties ? &marched[u] : nullptr, draw));
      });
  }
  return result;
}

const QuickDuties* nominal_duties(const Ensemble& of, std::size_t variant) {
  const WorldInDraw* const here = of.nominal->of(of.world(variant));
  return here ? &*here->duties : nullptr;
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
  std::vector<std::size_t> all(question->variants.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  samples.resize(all.size());
  const std::size_t before = samples.front().size();
  for (auto& of_variant : samples) of_variant.resize(before + count);
  oneapi::tbb::parallel_for(std::size_t{0}, count, [&](std::size_t i) {
    const Draw draw(*draws, static_cast<int>(first + i));
    std::vector<VariantSample> drawn = samples_in(*this, draw, all);
    for (const std::size_t v : all) samples[v][before + i] = std::move(drawn[v]);
  });
}

Ensemble::Ensemble(const Case& of, const Sections& asked, const TripProgress& progress)
    : question(&of),
      sections(asked),
      frequencies(frequencies_of(of)),
      baseline(index_of_baseline(of)) {
  const int count = of.samples > 0 ? of.samples : of.adaptive ? adaptive_block : default_samples;
  const std::array<std::function<void()>, 2> prepared{
      [&] {
        histories = service_histories(of);
        nominal = std::make_shared<const NominalWorlds>(*this);
      },
      [&] { draws = std::make_unique<Draws>(numbers_of(of), count, of.seed, of.correlations); }};
  side_by_side(prepared.size(), [&](std::size_t i) { prepared[i](); });
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

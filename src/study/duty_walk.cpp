#include "study/duty_walk.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>

#include "study/duty_course.hpp"
#include "study/naming.hpp"
#include "study/strike_map.hpp"
#include "study/trips.hpp"
#include "study/years_section.hpp"

namespace ohmdrag::study {
namespace {

bool wanted(const Walker& walker, std::size_t duty) {
  return std::ranges::any_of(walker.onlookers,
                             [&](const Onlooker* onlooker) { return onlooker->wants(duty); });
}

void go(Walker& walker, const DutyModel& way, std::size_t duty) {
  std::vector<Onlooker*> looking = walker.onlookers;
  std::erase_if(looking, [&](const Onlooker* onlooker) { return !onlooker->wants(duty); });
  for (Onlooker* onlooker : looking) onlooker->begin(way, duty);
  const energy::Ledger ledger =
      energy::march(walker.nominal.variant.unit, way.stretches, way.phases.size(), way.sump,
                    walker.nominal.model.dry, [&](const energy::Moment& moment) {
                      for (Onlooker* onlooker : looking) onlooker->see(moment);
                    });
  for (Onlooker* onlooker : looking) onlooker->end(ledger);
}

}  // namespace

void walk_duties(const Case& question, const Walkers& walkers) {
  const auto in_parallel = [&](const auto& each) {
    oneapi::tbb::parallel_for(std::size_t{0}, walkers.size(), [&](std::size_t i) {
      naming(*walkers[i]->nominal.entry, [&] { each(*walkers[i]); });
    });
  };
  in_parallel([&](Walker& walker) {
    const Nominal& here = walker.nominal;
    for (Onlooker* onlooker : walker.onlookers) onlooker->set_out();
    for (std::size_t d = 0; d < here.world->duties.size(); ++d)
      if (here.world->duties[d].trips.empty() && wanted(walker, d))
        go(walker, duty_model(here.model, here.world->duties[d], here.draw), d);
  });
  for (std::size_t d = 0; d < question.duties.size(); ++d)
    if (std::ranges::any_of(walkers, [&](const auto& walker) { return wanted(*walker, d); }))
      for_each_trip(question.duties[d], [&](const duty::Trip& trip) {
        in_parallel([&](Walker& walker) {
          const Nominal& here = walker.nominal;
          if (wanted(walker, d))
            go(walker, trip_model(here.model, here.world->duties.at(d), trip, here.draw), d);
        });
      });
}

void fill_over_duties(const Ensemble& ensemble, std::vector<VariantFindings>& findings) {
  Walkers walkers;
  DutyCourses courses;
  StrikeMaps maps;
  YearsOfVariants years(ensemble);
  for (std::size_t v = 0; v < ensemble.question->variants.size(); ++v) {
    const Case& world = ensemble.world(v);
    const bool mapped = ensemble.sections.voltage && has_electrics(world);
    const bool counted = ensemble.sections.life && strikes_can_be_counted(world);
    const bool marched = ensemble.sections.energy;
    if (!mapped && !counted && !marched) continue;
    Walker& walker = *walkers.emplace_back(std::make_unique<Walker>(ensemble, v));
    if (marched) courses.join(walker);
    if (mapped) maps.join(walker);
    if (counted) years.join(walker);
  }
  walk_duties(*ensemble.question, walkers);
  courses.fill(findings);
  maps.fill(service_mix(*ensemble.question), findings);
  years.fill(findings);
}

}  // namespace ohmdrag::study

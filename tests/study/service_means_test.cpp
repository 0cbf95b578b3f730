// The means that all sections share, against those of single draws; derived.

#include "study/service_means.hpp"

#include <catch2/catch.hpp>

#include "study/sample_case.hpp"
#include "study/sections.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

namespace {

/// Two duties, and a mesh beside the bearing.
study::Case mixed_case() {
  study::Case question = sample_case();
  question.duties.push_back(question.duties.front());
  question.duties.back().id = "night";
  question.duties.back().shaft_speed = known(2000.0_rpm);
  question.service.mix = {{"shift", 0.7}, {"night", 0.3}};
  question.paths_to_frame.push_back(sample_mesh("mesh", 20.0_pF));
  question.samples = 12;
  return question;
}

}  // namespace

TEST_CASE("means worked out once are those of every draw", "[derived]") {
  const study::Case question = mixed_case();
  const study::Ensemble ensemble(question, {.life = true});
  const study::ServiceMeans means(ensemble);
  double struck_s = 0.0;
  for (std::size_t v = 0; v < ensemble.samples.size(); ++v)
    for (std::size_t i = 0; i < ensemble.samples[v].size(); ++i) {
      const study::VariantSample& sample = ensemble.samples[v][i];
      for (std::size_t place = 0; place < 2; ++place) {
        const study::ServiceMean one = study::service_mean(means.mix(), sample, place);
        const study::ServiceMean& shared = means.of(v, place)[i];
        CHECK(shared.seconds_per_unit == one.seconds_per_unit);
        for (const auto figure : study::bearing_sums)
          CHECK(shared.per_second.*figure == one.per_second.*figure);
      }
      const study::BearingSample sum = study::service_sum(means.mix(), sample);
      for (const auto figure : study::bearing_sums) CHECK(means.sum(v)[i].*figure == sum.*figure);
      CHECK(means.sum(v)[i].striking_by_credit_s == sum.striking_by_credit_s);
      struck_s += sum.striking_s;
    }
  CHECK(struck_s > 0.0);
}

TEST_CASE("without duties there are means, and they are zero", "[derived]") {
  study::Case question = mixed_case();
  question.duties.clear();
  question.service.mix.clear();
  const study::Ensemble ensemble(question, {.budget = true});
  const study::ServiceMeans means(ensemble);
  CHECK(means.of(0, 0).size() == ensemble.samples.front().size());
  CHECK(means.sum(0).front().striking_s == 0.0);
}

// Variants that a moved number does not reach, against the whole case computed anew; derived.

#include "study/moved_samples.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "study/sample_case.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;

namespace {

template <class Numbers>
void add(std::vector<double>& all, const Numbers& some) {
  all.insert(all.end(), some.begin(), some.end());
}

/// Every kind of figure that a variant has.
std::vector<double> figures_of(const study::VariantSample& sample) {
  std::vector<double> all;
  for (const study::PointSample& point : sample.points) {
    all.insert(all.end(), {point.total_W, point.idle_into_sump_W, point.electric.verdict_edge_V,
                           point.electric.held_V, point.electric.dose_rate});
    for (const study::PartSample& part : point.parts)
      all.insert(all.end(), {part.own_W, part.net_W, part.contact_degC, part.aged_W});
    for (const auto& of_age : point.impedance_ohm) add(all, of_age);
  }
  for (const study::DutySample& duty : sample.duties) {
    for (const study::PhaseSample& phase : duty.phases) {
      add(all, phase.shaft_J);
      add(all, phase.battery_J);
    }
    for (const study::BearingSample& bearing : duty.bearings)
      for (double study::BearingSample::*const sum : study::bearing_sums)
        all.push_back(bearing.*sum);
    all.push_back(duty.end_oil_degC);
  }
  for (const auto& of_age : sample.impedance_ohm) add(all, of_age);
  for (const study::ContactSample& contact : sample.contacts)
    all.insert(all.end(), {contact.line_force_N_m.back(), contact.wear_m, contact.worn_out_s});
  return all;
}

/// To the last bit; a figure that does not exist is alike.
bool alike(const study::VariantSample& a, const study::VariantSample& b) {
  return std::ranges::equal(figures_of(a), figures_of(b), [](double x, double y) {
    return x == y || (std::isnan(x) && std::isnan(y));
  });
}

study::Case few_draws() {
  study::Case question = sample_case();
  question.samples = 2;
  return question;
}

}  // namespace

TEST_CASE("a variant that no moved number reaches is what it is at the middle", "[study]") {
  const study::Case question = few_draws();
  const study::Ensemble ensemble(question, study::Sections::all());
  const study::MovedSamples samples(ensemble);
  std::vector<std::size_t> all;
  for (std::size_t v = 0; v < question.variants.size(); ++v) all.push_back(v);

  std::size_t spared = 0;
  for (const UncertainNumber* number : ensemble.draws->drawn()) {
    CAPTURE(number->key);
    const std::array places{study::Places{{number->key, {0.7, 0.4}}}};
    const study::Draws stated(ensemble.draws->drawn(), places);
    const study::Draw draw(stated, 0);
    const auto whole = study::samples_in(ensemble, draw, all);
    const auto moved = samples.in(draw, std::array{number->key});
    spared += all.size() - moved.computed.size();
    for (const std::size_t v : all) CHECK(alike(whole[v], *moved.all[v]));
    const auto at = samples.at(places);
    REQUIRE(at.front());
    for (const std::size_t v : all) CHECK(alike(whole[v], *at.front()->all[v]));
  }
  // The rings are no business of the variant without one.
  CHECK(spared > 0);
}

TEST_CASE("only those variants are computed that are asked for", "[study]") {
  const study::Case question = few_draws();
  const study::Ensemble ensemble(question, study::Sections::all());
  const study::MovedSamples samples(ensemble);
  const std::array<study::Places, 2> places{
      study::Places{{"lubricant.oil.viscosity_40", {0.9, 0.5}}}, study::Places{}};
  const auto asked = samples.at(places, {true, false, true});
  const auto all = samples.at(places);
  for (std::size_t i = 0; i < places.size(); ++i) {
    REQUIRE(asked[i]);
    CHECK(asked[i]->all[1] == nullptr);
    for (const std::size_t v : {std::size_t{0}, std::size_t{2}})
      CHECK(alike(*asked[i]->all[v], *all[i]->all[v]));
  }
  CHECK(asked[0]->computed.size() == 2);
  // Nothing moved: the middle.
  CHECK(asked[1]->computed.empty());
}

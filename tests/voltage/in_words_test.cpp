#include "ohmdrag/voltage/in_words.hpp"

#include "support/near.hpp"
#include "voltage/reference.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using Catch::Matchers::Contains;
using ohmdrag::test::carrier;
using ohmdrag::test::node;

TEST_CASE("what an element does, in words", "[derived]") {
  struct Row {
    MaybePath path;
    Effect effect;
    const char* words;
  };
  const auto row = GENERATE(
      Row{std::nullopt, Effect::no_path, "Nothing connects the shaft"},
      Row{GroundingPath{10.0_kohm, 50.0_nH}, Effect::leaves_standing, "standing on the shaft"},
      Row{GroundingPath{50.0_ohm, 50.0_nH}, Effect::leaves_spikes, "only spikes"},
      Row{GroundingPath{1.0_ohm, 20.0_nH}, Effect::removes_both, "removes the oscillation"});
  CHECK(effect(node, row.path, carrier, 2.0_MHz) == row.effect);
  CHECK_THAT(effect_in_words(node, row.path, carrier, 2.0_MHz), Contains(row.words));
}

TEST_CASE("the sentence names where the path takes over", "[derived]") {
  CHECK_THAT(effect_in_words(node, GroundingPath{1.0_ohm, 50.0_nH}, carrier, 2.0_MHz),
             Contains("Above 3.2 MHz the inductance of the path, not the contact"));
  CHECK_THAT(effect_in_words(node, GroundingPath{1.0_ohm, 0.0_nH}, carrier, 2.0_MHz),
             !Contains("inductance of the path, not"));
}

TEST_CASE("the sentence says where more force buys nothing", "[derived]") {
  const GroundingPath path{1.0_ohm, 50.0_nH};
  CHECK_THAT(effect_in_words(node, path, carrier, 10.0_MHz),
             Contains("at 10 MHz more force buys nothing here"));
  CHECK_THAT(effect_in_words(node, path, carrier, 2.0_MHz), !Contains("buys nothing"));
}

TEST_CASE("the sentence says that a film and not the force sets what is left", "[derived]") {
  const GroundingPath filmed{1.0_ohm, 50.0_nH, {{10.0_kohm, 100.0_pF}}};
  CHECK_THAT(effect_in_words(node, filmed, carrier, 2.0_MHz),
             Contains("At 2 MHz a film of the contact, not the force") &&
                 Contains("measured at another level or at rest may differ"));
  const GroundingPath thin{1.0_ohm, 50.0_nH, {{0.1_ohm, 100.0_pF}}};
  CHECK_THAT(effect_in_words(node, thin, carrier, 2.0_MHz), !Contains("not the force"));
}

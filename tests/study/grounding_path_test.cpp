#include "ohmdrag/voltage/path.hpp"

#include "study/grounding_path.hpp"
#include "study/sample_case.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::study;
using namespace ohmdrag::test;

namespace {

PathsOverService paths(const Grounding& grounding, GroundingNotes* notes = nullptr) {
  GroundingNotes ignored;
  return paths_of(grounding, {.life = nullptr, .diameter = 45.0_mm}, Draw{},
                  notes ? *notes : ignored);
}

}  // namespace

TEST_CASE("a film and a capacitance stand in the path at every age", "[study]") {
  Grounding grounding = sample_grounding(20.0_ohm, 15.0_N_m);
  grounding.film = Grounding::ContactFilm{known(10.0_kohm), known(100.0_pF)};
  grounding.parallel_capacitance = known(20.0_pF);
  const auto by_age = paths(grounding);
  for (const auto& path : by_age) {
    REQUIRE(path);
    REQUIRE(path->films.size() == 1);
    CHECK(path->films[0].resistance == 10.0_kohm);
    CHECK_THAT(path->across, near(20.0_pF, 1e-12));
    CHECK_THAT(path->inductance, near(10.0_nH, 1e-12));
  }
  CHECK_THAT(by_age.front()->resistance, near(20.0_ohm, 1e-12));
  CHECK_THAT(by_age.back()->resistance, near(60.0_ohm, 1e-12));
}

TEST_CASE("a measured impedance takes the place of the law and ages by its resistances",
          "[study]") {
  Grounding grounding = sample_grounding(20.0_ohm, 15.0_N_m);
  const voltage::GroundingPath measured{2.0_ohm, 40.0_nH, {{30.0_ohm, 2.0_nF}}, 5.0_pF};
  Grounding::MeasuredImpedance& impedance = grounding.impedance.emplace();
  impedance.fit.path = measured;
  impedance.fit.from = 1.0_kHz;
  impedance.fit.to = 10.0_MHz;
  impedance.factor = known(1.5);
  GroundingNotes notes;
  const auto by_age = paths(grounding, &notes);
  CHECK_THAT(by_age.front()->resistance, near(3.0_ohm, 1e-12));
  CHECK_THAT(by_age.front()->films[0].resistance, near(45.0_ohm, 1e-12));
  CHECK_THAT(by_age.back()->resistance, near(9.0_ohm, 1e-12));
  CHECK_THAT(by_age.back()->films[0].resistance, near(135.0_ohm, 1e-12));
  for (const auto& path : by_age) {
    // Measured plus stated inductance.
    CHECK_THAT(path->inductance, near(70.0_nH, 1e-12));
    CHECK_THAT(path->films[0].capacitance, near(2.0_nF / 1.5, 1e-12));
    CHECK_THAT(path->across, near(5.0_pF / 1.5, 1e-12));
  }
  const std::vector<Flag> flags = in_words(notes);
  REQUIRE(flags.size() == 1);
  CHECK(flags[0].code == "impedance-measured");
  CHECK(flags[0].text.find("from 1 kHz to 10 MHz") != std::string::npos);
}

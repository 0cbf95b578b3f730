#include "ohmdrag/study/evaluate.hpp"

#include <cmath>

#include "study/sample_case.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;
using study::Findings;
using study::Sections;

namespace {

const study::VariantFindings& variant(const Findings& findings, const std::string& id) {
  for (const auto& v : findings.variants)
    if (v.id == id) return v;
  throw std::out_of_range(id);
}

const study::ExchangeRow& exchange(const Findings& findings, const std::string& id) {
  for (const auto& row : findings.trade->exchange)
    if (row.variant == id) return row;
  throw std::out_of_range(id);
}

double width(const Interval& i) { return i.high - i.low; }

}  // namespace

TEST_CASE("a difference of two variants does not carry what they share", "[study]") {
  const auto findings = study::evaluate(sample_case(), Sections::all());
  const auto& row = exchange(findings, "ohm");
  // The lip alone is uncertain by tens of per cent; the ring's own watts by its friction.
  const auto seal = variant(findings, "ohm").budget[0];
  const auto ring = variant(findings, "ohm").budget[1];
  REQUIRE(seal.component == "seal");
  REQUIRE(ring.component == "grounding");
  CHECK(width(row.point_net_W) < 0.3 * width(seal.own_W));
  CHECK(width(row.point_net_W) < 1.2 * width(ring.own_W));
  // Drawn independently, the difference of the totals would be as wide as the lips' spread.
  auto apart = sample_case();
  auto& lip = std::get<study::LipElement>(apart.variants[2].seal->element.form);
  std::get<study::MixedFilmEntry>(lip.law).film_coefficient.key =
      "contact.another-lip.film_coefficient";
  lip.line_force.key = "contact.another-lip.line_force";
  const auto independent = study::evaluate(apart, Sections::all());
  CHECK(width(exchange(independent, "ohm").point_net_W) > 3.0 * width(row.point_net_W));
}

TEST_CASE("net watts of a variant are its total less the baseline's", "[study]") {
  auto question = sample_case();
  question.samples = 1;
  const auto findings = study::evaluate(question, Sections::all());
  const auto total = [&](const char* id) {
    double sum = 0.0;
    for (const auto& row : variant(findings, id).budget) sum += row.own_W.mid;
    return sum;
  };
  CHECK_THAT(exchange(findings, "ohm").point_net_W.mid,
             Catch::Matchers::WithinAbs(total("ohm") - total("plain"), 1e-9));
  // The part's own net watts are the same figure, found by taking it away.
  CHECK_THAT(variant(findings, "ohm").budget[1].net_W.mid,
             Catch::Matchers::WithinAbs(total("ohm") - total("plain"), 1e-6));
}

TEST_CASE("the same case gives the same findings", "[study]") {
  const auto a = study::evaluate(sample_case(), Sections::all());
  const auto b = study::evaluate(sample_case(), Sections::all());
  for (std::size_t v = 0; v < a.variants.size(); ++v)
    for (std::size_t i = 0; i < a.variants[v].budget.size(); ++i) {
      CHECK(a.variants[v].budget[i].own_W.low == b.variants[v].budget[i].own_W.low);
      CHECK(a.variants[v].budget[i].net_W.high == b.variants[v].budget[i].net_W.high);
    }
  CHECK(exchange(a, "ohm").dose_factor->mid == exchange(b, "ohm").dose_factor->mid);
}

TEST_CASE("an infinite impedance is no grounding, exactly in life and voltage", "[study]") {
  auto question = sample_case();
  question.variants.push_back(sample_variant("open", sample_grounding(1e15_ohm, 0.006_N_mm)));
  const auto findings = study::evaluate(question, Sections::all());
  const auto& plain = variant(findings, "plain");
  const auto& open = variant(findings, "open");
  CHECK_THAT(open.voltage[0].edge_peak_V.mid,
             Catch::Matchers::WithinRel(plain.voltage[0].edge_peak_V.mid, 1e-6));
  CHECK_THAT(open.voltage[0].held_V.mid,
             Catch::Matchers::WithinRel(plain.voltage[0].held_V.mid, 1e-4));
  CHECK_THAT(exchange(findings, "open").dose_factor->mid, Catch::Matchers::WithinAbs(1.0, 0.02));
}

TEST_CASE("at a fixed oil temperature grounding changes no mechanical life", "[study]") {
  const auto findings = study::evaluate(sample_case(), Sections::all());
  for (const char* id : {"kiloohm", "ohm"})
    CHECK(variant(findings, id).life[0].mechanical_basic_h ==
          variant(findings, "plain").life[0].mechanical_basic_h);
}

TEST_CASE("less impedance leaves less voltage and no more dose, draw by draw", "[study]") {
  const auto findings = study::evaluate(sample_case(), Sections::all());
  for (const auto* id : {"kiloohm", "ohm"}) {
    CAPTURE(id);
    CHECK(exchange(findings, id).dose_factor->low >= 1.0);
  }
  CHECK(exchange(findings, "ohm").dose_factor->mid >
        exchange(findings, "kiloohm").dose_factor->mid);
  CHECK(exchange(findings, "ohm").edge_peak_V.mid < exchange(findings, "kiloohm").edge_peak_V.mid);
  CHECK(exchange(findings, "kiloohm").edge_peak_V.mid <=
        exchange(findings, "plain").edge_peak_V.mid);
  CHECK(exchange(findings, "plain").dose_factor->mid == 1.0);
}

TEST_CASE("no law named: no electrical hours anywhere", "[study]") {
  const auto findings = study::evaluate(sample_case(), Sections::all());
  for (const auto& v : findings.variants)
    for (const auto& row : v.life) {
      CHECK(row.electrical.empty());
      CHECK(!row.combined_linear_h);
      CHECK(!row.combined_competing_h);
      CHECK(!row.event_probability_in_service);
    }
}

TEST_CASE("the dose law returns the observation in the variant observed", "[study]") {
  auto question = sample_case();
  study::DamageLaw law;
  law.kind = study::LawKind::dose;
  law.observed = "first raceway noise";
  law.after = known(900.0_h);
  law.in_variant = "plain";
  question.laws = {law};
  const auto findings = study::evaluate(question, Sections::all());
  const auto& plain = variant(findings, "plain").life[0];
  REQUIRE(plain.electrical.size() == 1);
  CHECK_THAT(plain.electrical[0].hours.mid, Catch::Matchers::WithinRel(900.0, 1e-9));
  CHECK(plain.combined_linear_h->mid <= 900.0);
  CHECK(plain.combined_competing_h->mid <= 900.0);
  CHECK(plain.combined_linear_h->mid <= plain.combined_competing_h->mid);
  CHECK(!plain.electrical[0].remark.empty());
}

TEST_CASE("requirements carry the probability of the ensemble", "[study]") {
  auto question = sample_case();
  study::Requirement requirement;
  requirement.id = "path";
  requirement.measure = study::Measure::impedance_magnitude;
  requirement.max = known(100.0);
  requirement.band = {1.0_MHz};
  requirement.end_of_service = true;
  requirement.share_of_parts = 0.9;
  question.requirements = {requirement};
  const auto findings = study::evaluate(question, Sections::all());
  const auto& ohm = variant(findings, "ohm").requirements[0];
  // 1 ohm, three times at the end of service, 10 nH: hypot(3, 0.0628).
  CHECK_THAT(ohm.value.mid, Catch::Matchers::WithinRel(std::hypot(3.0, 0.0628319), 1e-5));
  CHECK(ohm.met);
  CHECK(ohm.probability == 1.0);
  CHECK(!variant(findings, "kiloohm").requirements[0].met);
  CHECK(std::isinf(variant(findings, "plain").requirements[0].value.mid));
  CHECK(findings.trade->chosen == "ohm");
}

TEST_CASE("where nothing can strike the study says do not ground here", "[study]") {
  auto question = sample_case();
  question.inverter->dc_link = known(1.0_V);
  const auto findings = study::evaluate(question, Sections::all());
  CHECK(findings.trade->chosen == "plain");
  CHECK(findings.trade->reason.find("Do not ground here") != std::string::npos);
  CHECK(exchange(findings, "ohm").verdict.find("do not ground here") != std::string::npos);
}

TEST_CASE("the claim stops at the first rung without evidence", "[study]") {
  auto question = sample_case();
  CHECK(study::evaluate(question, Sections::all()).trade->claim.rung == 1);
  for (auto& v : question.variants)
    if (v.grounding) {
      auto& ring = std::get<study::RingElement>(v.grounding->element.form);
      ring.resistance.bulk.basis = ring.resistance.film.basis = Basis::measured;
    }
  CHECK(study::evaluate(question, Sections::all()).trade->claim.rung == 5);
  question.evidence.field_events = true;
  CHECK(study::evaluate(question, Sections::all()).trade->claim.rung == 6);
}

TEST_CASE("break-even follows the prices", "[study]") {
  auto question = sample_case();
  const auto free = study::evaluate(question, Sections::all());
  const auto& kWh = *exchange(free, "ohm").break_even.kWh_per_avoided_event;
  CHECK(!exchange(free, "ohm").break_even.failure_probability);
  // Net watts at a constant duty times 40 000 h.
  CHECK_THAT(kWh.mid,
             Catch::Matchers::WithinRel(exchange(free, "ohm").point_net_W.mid * 40.0, 1e-9));
  study::Prices prices;
  prices.energy_per_kWh = 0.2;
  prices.bearing_event = 1000.0;
  prices.element["ohm"] = 50.0;
  question.prices = prices;
  const auto priced = study::evaluate(question, Sections::all());
  const auto& p = *exchange(priced, "ohm").break_even.failure_probability;
  CHECK_THAT(p.mid, Catch::Matchers::WithinRel((kWh.mid * 0.2 + 50.0) / 1000.0, 1e-9));
}

TEST_CASE("the register names what the result rests on", "[study]") {
  const auto findings = study::evaluate(sample_case(), Sections::all());
  double watts = 0.0;
  for (const auto& row : findings.assumptions) watts += row.moves_share;
  CHECK(findings.assumptions.front().moves_share > 0.3);
  CHECK(findings.assumed_share == Approx(1.0));  // everything in the sample is assumed
  CHECK(watts >= 1.0);
}

TEST_CASE("a variant may live in a changed world", "[study]") {
  auto question = sample_case();
  auto cooler = std::make_shared<study::Case>(sample_case());
  cooler->points[0].oil_temperature = known(40.0_degC);
  auto changed = sample_variant("cooler", std::nullopt);
  changed.world = cooler;
  question.variants.push_back(changed);
  const auto findings = study::evaluate(question, Sections::all());
  CHECK(variant(findings, "cooler").budget[0].own_W.mid >
        variant(findings, "plain").budget[0].own_W.mid);
}

TEST_CASE("a case without variants or a contact that cannot be is refused in words", "[study]") {
  auto question = sample_case();
  question.variants.clear();
  CHECK_THROWS_AS(study::evaluate(question, Sections::all()), std::invalid_argument);
  question = sample_case();
  question.shafts[0].dry_side_length = known(1.0_mm);
  CHECK_THROWS_WITH(study::evaluate(question, Sections::all()),
                    Catch::Matchers::Contains("kiloohm"));
}

TEST_CASE("bearings that only conduct get no advice, least of all not to ground", "[study]") {
  auto question = sample_case();
  question.discharge.roughness = known(9.0_um);
  const auto findings = study::evaluate(question, Sections::all());
  CHECK(findings.trade->chosen == "plain");
  CHECK(findings.trade->reason.find("Do not ground") == std::string::npos);
  CHECK(exchange(findings, "ohm").verdict.find("no advice") == 0);
  CHECK(variant(findings, "plain").voltage[0].regime == "conducting");
  CHECK(variant(findings, "plain").life[0].conducting_time_share.mid == 1.0);
}

TEST_CASE("a rougher race or thinner oil is no remedy", "[study]") {
  auto question = sample_case();
  auto rough = std::make_shared<study::Case>(sample_case());
  rough->discharge.roughness = known(0.15_um);
  auto changed = sample_variant("rough", std::nullopt);
  changed.world = rough;
  question.variants = {question.variants[0], changed};
  const auto findings = study::evaluate(question, Sections::all());
  CHECK(!exchange(findings, "rough").dose_factor);
  CHECK(findings.trade->chosen == "plain");
}

TEST_CASE("an element on another shaft grounds nothing", "[study]") {
  auto question = sample_case();
  auto slow = question.shafts[0];
  slow.id = "slow";
  slow.ratio = known(0.25);
  question.shafts.push_back(slow);
  question.variants[2].grounding->shaft = "slow";
  const auto findings = study::evaluate(question, Sections::all());
  CHECK(variant(findings, "ohm").voltage[0].impedance_ohm.empty());
  CHECK(exchange(findings, "ohm").dose_factor->mid == 1.0);
  // A shaft of another ratio turns in proportion, in a machine too.
  for (const auto& row : variant(findings, "ohm").budget)
    if (row.component == "grounding") CHECK(row.shaft_speed_rpm == Approx(1500.0));
}

TEST_CASE("a requirement that the case cannot answer is neither met nor missed", "[study]") {
  auto question = sample_case();
  question.duties.clear();
  question.service.mix.clear();
  study::Requirement life;
  life.id = "life";
  life.measure = study::Measure::mechanical_life;
  life.min = known(1.0);
  study::Requirement strikes;
  strikes.id = "strikes";
  strikes.measure = study::Measure::striking_time_share;
  strikes.max = known(0.5);
  question.requirements = {life, strikes};
  const auto findings = study::evaluate(question, Sections::all());
  for (const auto& row : variant(findings, "ohm").requirements) CHECK(row.not_applicable);
  CHECK(exchange(findings, "ohm").requirements_asked == 0);
  CHECK(exchange(findings, "ohm").verdict.find("not counted") != std::string::npos);
}

TEST_CASE("the service counts the element as it is at its end", "[study]") {
  auto question = sample_case();
  auto& ring = std::get<study::RingElement>(question.variants[1].grounding->element.form);
  const double once =
      exchange(study::evaluate(question, Sections::all()), "kiloohm").edge_peak_V.mid;
  ring.resistance.end_of_service_factor = known(0.01);
  const double fresh =
      exchange(study::evaluate(question, Sections::all()), "kiloohm").edge_peak_V.mid;
  CHECK(fresh < once);
}

TEST_CASE("running hours of a year add up over the duties", "[study]") {
  auto question = sample_case();
  auto night = question.duties[0];
  night.id = "night";
  night.hours_per_year = known(2000.0_h);
  question.duties.push_back(night);
  const auto findings = study::evaluate(question, Sections::all());
  CHECK(variant(findings, "plain").life[0].service_hours == Approx(60000.0));
}

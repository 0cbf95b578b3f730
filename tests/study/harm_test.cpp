// The harm account of a ring whose every number is certain, against the figures that the other
// sections give for the same parts.

#include "study/service_case.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

namespace {

/// The lip alone, the same again, and the same beside a ring of felt.
study::Case lip_and_ring(bool into_oil) {
  study::Case c = with(seal_with(lip_of(wedge())), {});
  study::Variant same = c.variants.front();
  same.id = "same";
  study::Variant ring = c.variants.front();
  ring.id = "ring";
  ring.grounding = grounding_with(ring_of(felt()));
  ring.grounding->debris_reaches_oil = into_oil;
  c.variants.push_back(std::move(same));
  c.variants.push_back(std::move(ring));
  return c;
}

study::Findings account(bool into_oil = false) {
  return study::evaluate(lip_and_ring(into_oil), {.budget = true, .life = true});
}

const study::HarmRow* row_of(const study::VariantFindings& variant, const std::string& what) {
  const auto row = std::ranges::find(variant.harm, what, &study::HarmRow::what);
  return row == variant.harm.end() ? nullptr : &*row;
}

double middle(const study::VariantFindings& variant, const std::string& what) {
  const study::HarmRow* row = row_of(variant, what);
  REQUIRE(row);
  REQUIRE(row->figure);
  return row->figure->mid;
}

}  // namespace

TEST_CASE("harm is counted against the baseline alone", "[study]") {
  const study::Findings findings = account();
  CHECK(findings.variants[0].harm.empty());
  CHECK(findings.variants[1].harm.empty());  // the same machine once more harms nothing
  CHECK_FALSE(findings.variants[2].harm.empty());
}

TEST_CASE("debris, groove and watts are those of the ring's own sections", "[study]") {
  const study::VariantFindings ring = account().variants[2];
  CHECK(middle(ring, "debris") == Approx(life(ring, "grounding").debris_mg_per_1000h->mid));
  CHECK(middle(ring, "shaft-groove") == Approx(life(ring, "grounding").shaft_groove_um->mid));
  double highest = 0.0;
  for (const study::BudgetRow& row : ring.budget)
    if (row.component == "grounding") highest = std::max(highest, row.own_W.mid);
  CHECK(middle(ring, "watts-when-open") == Approx(highest));
  CHECK(middle(ring, "parts") == 2.0);
}

TEST_CASE("the seal beside a ring runs hotter by the difference of the two budgets", "[study]") {
  const study::Findings findings = account();
  double worst = 0.0;
  for (std::size_t i = 0; i < findings.points.size(); ++i)
    worst =
        std::max(worst, watts(findings.variants[2], "seal", i).contact_temperature_degC->mid -
                            watts(findings.variants[0], "seal", i).contact_temperature_degC->mid);
  CHECK(worst > 0.0);
  CHECK(middle(findings.variants[2], "seal-contact-temperature") == Approx(worst));
}

TEST_CASE("debris in the oil is owned up to even where no life can show it", "[study]") {
  CHECK(row_of(account().variants[2], "oil") == nullptr);
  const study::VariantFindings ring = account(true).variants[2];
  const study::HarmRow* oil = row_of(ring, "oil");
  REQUIRE(oil);
  CHECK_FALSE(oil->figure);
  CHECK(oil->text.find("no modified rating life") != std::string::npos);
  CHECK(row_of(ring, "debris")->text.find("reaches the oil") != std::string::npos);
}

TEST_CASE("without a shaft voltage nothing circulates and nothing comes back", "[study]") {
  const study::VariantFindings ring = account().variants[2];
  CHECK(row_of(ring, "circulating-current") == nullptr);
  CHECK(row_of(ring, "failure-open") == nullptr);
}

// A contact that opens leaves the shaft as it was without it.
TEST_CASE("an open contact leaves the voltage of the baseline", "[study]") {
  const study::Findings findings = study::evaluate(sample_case(), study::Sections::all());
  const study::VariantFindings& ohm = findings.variants[2];
  REQUIRE(findings.trade);
  CHECK(middle(ohm, "failure-open") == Approx(findings.trade->exchange[0].edge_peak_V.mid));
  REQUIRE(row_of(ohm, "circulating-current"));
  CHECK(row_of(ohm, "circulating-current")->text.find("not insulated") != std::string::npos);
}

// Whatever the baseline is, the shaft without its contact is counted on the same footing: the legs
// of the verdict and what is held.
TEST_CASE("an open contact is the same beside a grounded baseline", "[derived]") {
  study::Case c = sample_case();
  const double beside_plain =
      middle(study::evaluate(c, study::Sections::all()).variants[2], "failure-open");
  c.baseline = "kiloohm";
  const study::VariantFindings ohm = study::evaluate(c, study::Sections::all()).variants[2];
  CHECK(middle(ohm, "failure-open") == Approx(beside_plain).epsilon(1e-9));
  CHECK(row_of(ohm, "failure-open")->text.find("V held") != std::string::npos);
}

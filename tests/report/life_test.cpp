#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/report/json.hpp"
#include "ohmdrag/report/terminal.hpp"
#include "sample_findings.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;
using Json = nlohmann::json;

namespace {

/// Text with every run of blanks and line ends as one blank.
std::string flowing(const std::string& text) {
  std::istringstream in(text);
  std::string out;
  for (std::string word; in >> word;) out += (out.empty() ? "" : " ") + word;
  return out;
}

bool contains(const std::string& text, const std::string& part) {
  CAPTURE(text, part);
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("modified rating life stands beside the basic one", "[derived]") {
  const std::string page = flowing(report::terminal(sample("life"), {}));
  const study::LifeRow row = sample_life(false)[0];
  CHECK(contains(page, print_interval(*row.mechanical_modified_interval_h)));
  CHECK(contains(page, print_interval(*row.viscosity_ratio)));
  const Json document = Json::parse(report::json(sample("life")));
  const Json& life = document.at("variants")[0].at("life")[0];
  CHECK(life.at("mechanical_modified_h") == 81300.0);
  CHECK(life.at("mechanical_modified_interval_h").at("high") == 151000.0);
  CHECK(life.at("viscosity_ratio").at("mid") == 1.43);
}

TEST_CASE("all bearings together are one sentence with the service", "[derived]") {
  const study::LifeSystem system = sample_life_system();
  const std::string page = flowing(report::terminal(sample("life"), {}));
  CHECK(contains(page, "All 2 bearings together: basic rating life " +
                           print_interval(system.basic_h) +
                           " h (one unit in ten has failed); "
                           "modified " +
                           print_interval(*system.modified_h) +
                           " h at a survival of 95 %, oil of class slight; Weibull slope 1.5. "
                           "Service: 6120 h, 280000 km."));
  const Json document = Json::parse(report::json(sample("life")));
  const Json& together = document.at("variants")[1].at("life_system");
  CHECK(together.at("bearings") == 2);
  CHECK(together.at("modified_h").at("mid") == 51217.0);
  CHECK(together.at("reliability") == 0.95);
  CHECK(together.at("service_distance_km") == 280000.0);
  CHECK_FALSE(
      Json::parse(report::json(sample("budget"))).at("variants")[0].contains("life_system"));
}

TEST_CASE("a life without a class of oil has no modified figure", "[derived]") {
  study::Findings findings = sample("life");
  for (study::VariantFindings& variant : findings.variants) {
    for (study::LifeRow& row : variant.life) {
      row.mechanical_modified_h.reset();
      row.mechanical_modified_interval_h.reset();
      row.viscosity_ratio.reset();
      row.combined_from = "basic";
    }
    variant.life_system->bearings = 1;
    variant.life_system->modified_h.reset();
    variant.life_system->cleanliness.clear();
  }
  const std::string page = flowing(report::terminal(findings, {}));
  CHECK_FALSE(contains(page, "modified"));
  CHECK(contains(page, "The only bearing: basic rating life"));
  const Json document = Json::parse(report::json(findings));
  CHECK(document.at("variants")[0].at("life")[0].at("mechanical_modified_h").is_null());
  CHECK(document.at("variants")[0].at("life_system").at("modified_h").is_null());
  CHECK(document.at("variants")[0].at("life_system").at("cleanliness").is_null());
}

TEST_CASE("lives under a law stand beside the service, on the page of life and of trade",
          "[derived]") {
  const std::string life = flowing(report::terminal(sample("life"), {}));
  CHECK(contains(life, "combined lives start from"));
  CHECK(contains(life, "service distance"));
  const std::string trade = flowing(report::terminal(sample("trade"), {}));
  const study::ExchangeRow row = sample_exchange(true);
  for (const auto& figure : {*row.life_h, *row.life_gain_h, *row.life_gain_linear_h})
    CHECK(contains(trade, print_interval(figure)));
  CHECK(contains(trade, "service distance"));
  CHECK(contains(trade, row.life_in_words));
  const Json document = Json::parse(report::json(sample("trade")));
  const Json& ring = document.at("trade").at("exchange")[1];
  CHECK(ring.at("life_gain_h").at("mid") == 5300.0);
  CHECK(ring.at("life_gain_linear_h").at("low") == -131.0);
  CHECK(ring.at("service_distance_km") == 280000.0);
  CHECK(document.at("variants")[0].at("life")[0].at("combined_from") == "modified");
}

TEST_CASE("survival stands with the element, failed open, without it and of fatigue alone",
          "[derived]") {
  const std::string page = flowing(report::terminal(sample("life"), {}));
  CHECK(contains(page, "Survival of all bearings. Fatigue and erosion under the dose law."));
  const study::YearsStep end = sample_years(true).steps.back();
  for (const double share :
       {end.survival, end.open_survival, end.baseline_survival, end.fatigue_survival})
    CHECK(contains(page, print_number(100.0 * share, 4)));
  const Json years = Json::parse(report::json(sample("life"))).at("variants")[1].at("years");
  CHECK(years.at("survival_law") == "dose");
  CHECK(years.at("steps")[2].at("open_survival") == end.open_survival);
}

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

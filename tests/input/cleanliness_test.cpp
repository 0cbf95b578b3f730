#include <algorithm>
#include <cmath>
#include <string>

#include "input/support.hpp"
#include "ohmdrag/input/catalogue.hpp"

using namespace ohmdrag;
using test::complaint;
using test::load;
using test::replaced;
using test::smallest;

namespace {

const std::string rolling = smallest + R"([[bearing]]
id = "drive-end"
size = "6208"
radial = "500 N"
[[duty]]
id = "run"
shaft_speed = "6000 rpm"
oil_temperature = "70 degC"
)";

/// With a [sump] that says how clean its oil is.
std::string with_oil(const std::string& cleanliness) {
  return rolling + "[sump]\nlubricant = \"thin-axle-oil\"\ncleanliness = \"" + cleanliness + "\"\n";
}

/// The same with a ring whose debris reaches the oil.
std::string with_debris(const std::string& cleanliness) {
  return with_oil(cleanliness) + R"([[variant]]
id = "ring"
like = "plain"
[variant.grounding]
element = "textile-ring-dense"
position = "16 mm"
line_force = "0.015 N/mm"
path = "none"
debris_reaches_oil = true
)";
}

bool has(const std::string& text, const std::string& words) {
  CAPTURE(text, words);
  return text.find(words) != std::string::npos;
}

std::size_t warnings_of(const study::Case& c, const std::string& words) {
  return static_cast<std::size_t>(std::ranges::count_if(
      c.warnings, [&](const std::string& text) { return text.find(words) != std::string::npos; }));
}

}  // namespace

TEST_CASE("an EP additive counts only where the case says that it is proven", "[derived]") {
  CHECK_FALSE(load(with_oil("high")).sump.cleanliness->proven_ep_additive);
  CHECK(load(with_oil("high") + "ep_additive = \"proven\"\n").sump.cleanliness->proven_ep_additive);
  CHECK_FALSE(
      load(with_oil("high") + "ep_additive = \"none\"\n").sump.cleanliness->proven_ep_additive);
  CHECK(has(complaint(with_oil("high") + "ep_additive = \"some\"\n"), "sump.ep_additive"));
}

TEST_CASE("the oil's cleanliness is assumed unless it is stated", "[derived]") {
  const study::Case assumed = load(rolling);
  REQUIRE(assumed.sump.cleanliness);
  CHECK(assumed.sump.cleanliness->assumed);
  CHECK(assumed.sump.cleanliness->usual.id == "slight");
  CHECK(assumed.sump.cleanliness->within_class.basis == Basis::assumed);
  CHECK(warnings_of(assumed, "cleanliness of the oil is assumed") == 1);

  const study::Case stated = load(with_oil("normal"));
  REQUIRE(stated.sump.cleanliness);
  CHECK_FALSE(stated.sump.cleanliness->assumed);
  CHECK(stated.sump.cleanliness->usual.factor.mid() == 0.0288);
  CHECK(stated.sump.cleanliness->usual.diameter.mid() == 1.141);
  CHECK(stated.sump.cleanliness->usual.factor.basis == Basis::unverified);
  CHECK(has(stated.sump.cleanliness->usual.factor.source, "from memory"));
  CHECK_FALSE(stated.sump.cleanliness->with_debris);
  CHECK(warnings_of(stated, "cleanliness") == 0);

  // Nothing rolls, nothing to be said.
  const study::Case bare = load(smallest);
  CHECK_FALSE(bare.sump.cleanliness);
  CHECK(warnings_of(bare, "cleanliness") == 0);
}

TEST_CASE("an unknown class of cleanliness is refused", "[derived]") {
  const std::string text = complaint(with_oil("nromal"));
  CHECK(has(text, "sump.cleanliness"));
  CHECK(has(text, "normal"));
}

TEST_CASE("a case may bring its own class", "[derived]") {
  const std::string own = "[cleanliness.lab]\ntitle = \"Counted\"\nfactor = 0.05\ndiameter = 0.9\n";
  const study::Case c = load(with_oil("lab") + own);
  CHECK(c.sump.cleanliness->usual.title == "Counted");
  CHECK(c.sump.cleanliness->usual.factor.mid() == 0.05);
  CHECK(has(complaint(with_oil("lab") + own + "dirtier = \"severest\"\n"), "there is no class"));
  CHECK(has(complaint(with_oil("lab") + replaced(own, "factor = 0.05\n", "")),
            "cleanliness.lab.factor: missing"));
  CHECK(has(complaint(with_oil("lab") + replaced(own, "0.05", "-1")), "physical range"));
}

TEST_CASE("debris takes the next dirtier class along", "[derived]") {
  const study::Case c = load(with_debris("normal"));
  CHECK(test::variant(c, "ring").grounding->debris_reaches_oil);
  REQUIRE(c.sump.cleanliness->with_debris);
  CHECK(c.sump.cleanliness->with_debris->id == "slight");

  const study::Case dirtiest = load(with_debris("severe"));
  CHECK_FALSE(dirtiest.sump.cleanliness->with_debris);
  CHECK(warnings_of(dirtiest, "no class is dirtier than severe") == 1);

  const study::Case clean =
      load(replaced(with_debris("normal"), "debris_reaches_oil = true\n", ""));
  CHECK_FALSE(test::variant(clean, "ring").grounding->debris_reaches_oil);
  CHECK_FALSE(clean.sump.cleanliness->with_debris);
}

TEST_CASE("every class is cleaner than the one it calls dirtier", "[derived]") {
  // e_C at kappa 1 and 60 mm, and that the chain ends.
  const input::Catalogue catalogue;
  const auto entries = catalogue.entries("cleanliness");
  CHECK(entries.size() == 14);
  const auto value = [&](const std::string& id, const char* name) {
    const auto entry = std::ranges::find(entries, id, &input::ListedEntry::id);
    REQUIRE(entry != entries.end());
    const auto found = std::ranges::find(entry->values, name, &input::ListedValue::name);
    return found == entry->values.end() ? std::string{} : found->text;
  };
  const auto contamination = [&](const std::string& id) {
    const double a = std::stod(value(id, "factor")) * std::pow(60.0, 0.55);
    return std::max(0.0, a * (1.0 - std::stod(value(id, "diameter")) / std::cbrt(60.0)));
  };
  for (const auto& entry : entries) {
    std::string id = entry.id;
    std::size_t steps = 0;
    for (std::string next = value(id, "dirtier"); !next.empty(); next = value(id, "dirtier")) {
      CAPTURE(id, next);
      CHECK(contamination(next) < contamination(id));
      id = next;
      REQUIRE(++steps < entries.size());
    }
  }
}

TEST_CASE("a reliability lies in the range of the method", "[derived]") {
  CHECK(load(rolling).service.reliability == 0.9);
  CHECK(load(rolling + "[service]\nreliability = 0.95\n").service.reliability == 0.95);
  CHECK(load(rolling + "[service]\nreliability = \"99 %\"\n").service.reliability == Approx(0.99));
  CHECK(has(complaint(rolling + "[service]\nreliability = 0.8\n"), "physical range"));
  CHECK(has(complaint(rolling + "[service]\nreliability = 0.9999\n"), "physical range"));
  CHECK(has(complaint(rolling + "[service]\nreliability = \"0.95 ± 1 %\"\n"), "without spread"));
}

TEST_CASE("a bearing may state its fatigue load limit", "[derived]") {
  CHECK_FALSE(load(rolling).bearings[0].type.fatigue_load_limit);
  const study::Case c = load(
      replaced(rolling, "size = \"6208\"\n", "size = \"6208\"\nfatigue_load_limit = \"750 N\"\n"));
  CHECK(c.bearings[0].type.fatigue_load_limit->nominal().value() == Approx(750.0));
}

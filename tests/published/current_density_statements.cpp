// What has been published on the apparent current density of bearings, as the shipped table states
// it. Read: abstracts of Lubricants 2023, 11, 164 (below 1 mA/mm2 life may fall by white etching
// cracks) and of Lubricants 2024, 12, 148 (disturbance beyond a limit of about 0.1 to 0.3 A/mm2).
// All other rows are from memory.
#include <map>
#include <string>

#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/voltage/discharge.hpp"
#include "support/data_file.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;

namespace {

struct Row {
  double from_A_mm2 = 0.0;
  double up_to_A_mm2 = 0.0;
  std::string basis;
  std::string source;
};

std::map<std::string, Row> shipped() {
  std::map<std::string, Row> rows;
  const toml::table file = test::data_file("current_density.toml");
  for (const toml::node& node : *file["current_density"].as_array()) {
    const toml::table& entry = *node.as_table();
    const auto in_A_mm2 = [&](const char* key) {
      return 1e-6 * test::data_number(entry, key, Dimension::current_density).mid;
    };
    rows[entry["id"].value_or(std::string{})] = {
        .from_A_mm2 = entry.contains("from") ? in_A_mm2("from") : 0.0,
        .up_to_A_mm2 = in_A_mm2("up_to"),
        .basis = entry["basis"].value_or(std::string{}),
        .source = entry["source"].value_or(std::string{})};
  }
  return rows;
}

void check_range(const Row& row, double from_A_mm2, double up_to_A_mm2) {
  CHECK(row.from_A_mm2 == Approx(from_A_mm2));
  CHECK(row.up_to_A_mm2 == Approx(up_to_A_mm2));
}

}  // namespace

TEST_CASE("densities that the abstracts print", "[printed]") {
  const auto rows = shipped();
  check_range(rows.at("white-etching"), 0.0, 0.001);
  check_range(rows.at("onset"), 0.1, 0.3);
  for (const char* id : {"white-etching", "onset"}) CHECK(rows.at(id).basis == "paper");
  // The floor of the current-density law lies at the lower end of the onset.
  const toml::table laws = test::data_file("laws.toml");
  CHECK(laws["law"]["current-density"]["floor_A_mm2"]["value"].value_or(0.0) == Approx(0.1));
}

TEST_CASE("densities from memory are marked so", "[formula]") {
  const auto rows = shipped();
  check_range(rows.at("no-influence"), 0.0, 0.1);
  check_range(rows.at("guidance"), 0.0, 0.3);
  check_range(rows.at("slope-currents"), 0.0, 0.4);
  check_range(rows.at("discharges"), 0.6, 0.8);
  CHECK(rows.size() == 6);
  for (const auto& [id, row] : rows) {
    CAPTURE(id);
    CHECK((row.basis == "paper") == !row.source.starts_with("from memory"));
    if (row.basis != "paper") CHECK(row.basis == "unverified");
  }
}

TEST_CASE("a discharge of the default loop in terms of the published densities", "[formula]") {
  // 20 V on 1 nF through 100 nH and 5 ohm, 1.369 mm2: 1.423 A, 1.039 A/mm2. Peaks of 0.5 to 3 A are
  // usual (from memory: A. Muetze, A. Binder, 2007).
  const Current peak = peak_discharge_current(20.0_V, {100.0_nH, 5.0_ohm, 1.0_nF});
  CHECK(peak > 0.5_A);
  CHECK(peak < 3.0_A);
  const double density_A_mm2 = 1e-6 * apparent_current_density(peak, 1.369_mm2).value();
  CHECK(density_A_mm2 == Approx(1.039).margin(5e-4));
  CHECK(density_A_mm2 > shipped().at("discharges").up_to_A_mm2);
}

#include "ohmdrag/input/catalogue.hpp"

#include <algorithm>
#include <string>

#include "input/support.hpp"
#include "ohmdrag/input/starter.hpp"

using namespace ohmdrag;

TEST_CASE("every built-in entry can be read and says where it comes from", "[derived]") {
  const input::Catalogue catalogue;
  for (const std::string& kind : input::Catalogue::kinds()) {
    CAPTURE(kind);
    const auto entries = catalogue.entries(kind);
    CHECK_FALSE(entries.empty());
    CHECK(entries.size() == catalogue.ids(kind).size());
    for (const input::ListedEntry& entry : entries) {
      CAPTURE(entry.id);
      CHECK_FALSE(entry.values.empty());
      for (const input::ListedValue& value : entry.values) {
        CAPTURE(value.key);
        CHECK_FALSE(value.text.empty());
        CHECK(value.key.ends_with('.' + value.name));
        if (!value.number) continue;
        CHECK(value.number->key == value.key);
        CHECK_FALSE(value.number->source.empty());
        CHECK(value.number->source != "no basis given");
      }
    }
  }
  CHECK_THROWS_AS(catalogue.entries("nonsense"), std::invalid_argument);
  CHECK_THROWS_AS(catalogue.element("nonsense"), std::invalid_argument);
  CHECK_FALSE(catalogue.discharge().breakdown_field.source.empty());
}

TEST_CASE("every cycle of the catalogue keeps its published totals", "[derived]") {
  const input::Catalogue catalogue;
  const auto ids = catalogue.ids("cycles");
  CHECK(ids.size() == 12);
  for (const std::string& id : ids) {
    CAPTURE(id);
    CHECK_NOTHROW(catalogue.cycle(id));
  }
}

TEST_CASE("a data folder overrides entry by entry", "[derived]") {
  const test::Folder folder;
  folder.write("mine.toml",
               "[bearing.6208]\nfamily = \"deep-groove-ball\"\nbasis = \"data-sheet\"\nsource = "
               "\"sheet\"\nrolling_elements = 9\nelement_diameter = \"12 mm\"\npitch_diameter = "
               "\"60 mm\"\nconformity = 0.52\nclearance = \"10 "
               "um\"\ndynamic_rating = \"30 kN\"\nstatic_rating = \"18 "
               "kN\"\nstatic_factor = 14\ntorque_factor = 2\nload_torque_factor = "
               "0.0005\nload_torque_exponent = 0.55\n");
  const input::Catalogue catalogue{folder.path()};
  CHECK(catalogue.bearing("6208").dynamic_rating.mid() == Approx(30e3));
  CHECK(catalogue.bearing("6208").dynamic_rating.basis == Basis::data_sheet);
  CHECK(catalogue.bearing("6209").dynamic_rating.mid() ==
        input::Catalogue{}.bearing("6209").dynamic_rating.mid());
  CHECK_THROWS_AS(input::Catalogue{folder.path() / "absent"}, input::InputError);
}

TEST_CASE("every range of the trade can be read", "[derived]") {
  for (const char* key : {"winding_rotor", "rotor_frame"}) {
    const study::Case c = test::load(test::smallest + "[coupling]\nwinding_rotor = \"unknown\"\n" +
                                     "rotor_frame = \"unknown\"\n");
    CAPTURE(key);
    CHECK(c.coupling->rotor_frame.unknown);
  }
}

TEST_CASE("every starter loads as it is, with what is built in", "[derived]") {
  for (const std::string& kind : input::starter_kinds()) {
    CAPTURE(kind);
    const std::string text = input::starter(kind);
    CHECK(text.find('#') != std::string::npos);
    std::string complaint;
    try {
      const study::Case c = input::case_from_text(text, kind + ".toml");
      CHECK_FALSE(c.variants.empty());
    } catch (const input::InputError& error) {
      complaint = error.what();
    }
    CHECK(complaint == "");
  }
  CHECK_THROWS_AS(input::starter("nonsense"), std::invalid_argument);
}

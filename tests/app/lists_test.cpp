// What `ohmdrag list` shows against the data files themselves, read here with a parser of our own
// choice and none of the program's readers.

#include <algorithm>
#include <cctype>
#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "program.hpp"
#include "support/data_file.hpp"
#include "support/in_source.hpp"

using namespace ohmdrag;
using nlohmann::json;

namespace {

struct Leaf {
  std::string key;  ///< dotted, as a case overrides it
  std::string written;
  std::string basis;  ///< empty for words
  std::string source;
};

/// All values below a node, basis and source handed down as the files' heads say.
class Leaves {
 public:
  explicit Leaves(std::vector<Leaf>& out) : out_(out) {}

  void below(const toml::table& table, const std::string& key, std::string basis,
             std::string source) {
    basis = table["basis"].value_or(basis);
    source = table["source"].value_or(source);
    if (const toml::node* value = table.get("value"))
      return number(table, *value, key, basis, source);
    for (const auto& [name, child] : table) {
      if (name == "basis" || name == "source" || name == "id") continue;
      const std::string child_key = key + '.' + std::string{name.str()};
      if (const auto* inner = child.as_table()) {
        below(*inner, child_key, basis, source);
      } else if (const auto* rows = child.as_array()) {
        std::size_t place = 0;
        for (const toml::node& row : *rows)
          below(*row.as_table(), child_key + '.' + std::to_string(++place), basis, source);
      } else {
        out_.push_back({child_key, text_of(child), basis, source});
      }
    }
  }

 private:
  static std::string text_of(const toml::node& node) {
    if (const auto* text = node.as_string()) return text->get();
    return json(*node.value<double>()).dump();
  }
  void number(const toml::table& table, const toml::node& value, const std::string& key,
              const std::string& basis, const std::string& source) {
    std::string written = text_of(value);
    for (const char* width : {"spread", "scatter"})
      if (const auto text = table[width].value<std::string>())
        written += std::string{", "} + width + ' ' + *text;
    out_.push_back({key, written, basis, source});
  }

  std::vector<Leaf>& out_;
};

std::vector<Leaf> leaves_of(const std::string& file, const std::string& section,
                            const std::string& key_of_section) {
  std::vector<Leaf> out;
  const toml::table all = test::data_file(file);
  const toml::node* node = all.get(section);
  REQUIRE(node);
  if (const auto* array = node->as_array()) {
    for (const toml::node& entry : *array) {
      const toml::table& table = *entry.as_table();
      Leaves{out}.below(table, key_of_section + '.' + table["id"].value_or(std::string{}), {}, {});
    }
  } else {
    Leaves{out}.below(*node->as_table(), key_of_section, {}, {});
  }
  CHECK_FALSE(out.empty());
  return out;
}

json rows_of(const std::string& kind, const test::Arguments& more = {}) {
  test::Arguments arguments{"list", kind, "--json"};
  arguments.insert(arguments.end(), more.begin(), more.end());
  const test::Ran ran = test::ohmdrag(arguments);
  CAPTURE(ran.err);
  REQUIRE(ran.status == 0);
  return json::parse(ran.out).at("rows");
}

std::map<std::string, json> by_key(const json& rows) {
  std::map<std::string, json> out;
  for (const json& row : rows) {
    const auto key = row.at("key").get<std::string>();
    CAPTURE(key);
    CHECK(out.emplace(row.at("name") == "title" ? key + ".title" : key, row).second);
  }
  return out;
}

/// As text or as the same number: 1.0 is printed as 1.
bool same(const std::string& written, const std::string& listed) {
  if (written == listed) return true;
  const json a = json::parse(written, nullptr, false);
  const json b = json::parse(listed, nullptr, false);
  return a.is_number() && b.is_number() && a.get<double>() == b.get<double>();
}

const std::string relaxed_fkm = R"toml([relaxation.fkm]
title = "Relaxation of one compound (invented)"
basis = "measured"
source = "invented run"
per_decade = 0.04
log_time = "1 min"
chemical_time = "12345 h"
at = "125 degC"
activation_temperature = "10000 K"
stretch = 0.6
)toml";

}  // namespace

TEST_CASE("list knows every kind, as text and as a document", "[derived]") {
  const std::string kind =
      GENERATE(as<std::string>{}, "cycles", "lubricants", "materials", "fits", "machines",
               "cleanliness", "contacts", "bearings", "rules", "laws", "bands", "current-densities",
               "units", "schema", "fit-schema", "size-schema");
  CAPTURE(kind);
  const test::Ran text = test::ohmdrag({"list", kind});
  CHECK(text.status == 0);
  CHECK(text.err.empty());
  CHECK(test::lines_of(text.out).size() >= 3);
  const test::Ran document = test::ohmdrag({"list", kind, "--json"});
  CHECK(document.status == 0);
  CHECK(document.err.empty());
  const json list = json::parse(document.out);
  const std::string schemas = test::in_source("data/schema/");
  if (kind == "schema") {
    CHECK(list == json::parse(test::file_text(schemas + "ohmdrag-result-1.json")));
  } else if (kind == "fit-schema") {
    CHECK(list == json::parse(test::file_text(schemas + "ohmdrag-fit-1.json")));
  } else if (kind == "size-schema") {
    CHECK(list == json::parse(test::file_text(schemas + "ohmdrag-size-1.json")));
  } else {
    CHECK(list.at("kind") == kind);
    CHECK_FALSE(list.at("rows").empty());
  }
}

TEST_CASE("every value of the data files is listed with its basis and source", "[derived]") {
  struct Home {
    std::string kind, file, section, key;
  };
  const auto home = GENERATE(values<Home>({
      {"lubricants", "lubricants.toml", "lubricant", "lubricant"},
      {"cleanliness", "cleanliness.toml", "cleanliness", "cleanliness"},
      {"contacts", "contacts.toml", "contact", "contact"},
      {"machines", "machines.toml", "machine_size", "machine_size"},
      {"rules", "rules.toml", "rule", "rule"},
      {"bearings", "bearings.toml", "bearing", "bearing_type"},
      {"laws", "laws.toml", "law", "law"},
      {"bands", "bands.toml", "band", "band"},
      {"current-densities", "current_density.toml", "current_density", "current_density"},
      {"materials", "defaults.toml", "steel", "steel"},
      {"materials", "seal_materials.toml", "seal_material", "seal_material"},
      {"materials", "seal_materials.toml", "lip_speed_chart", "lip_speed_chart"},
      {"materials", "seal_materials.toml", "graphite_transition", "graphite_transition"},
      {"materials", "seal_materials.toml", "modulus_over_temperature", "modulus_over_temperature"},
      {"materials", "seal_materials.toml", "relaxation", "relaxation"},
      {"materials", "seal_materials.toml", "lip_form", "lip_form"},
      {"materials", "seal_materials.toml", "wear", "wear"},
  }));
  CAPTURE(home.kind, home.section);
  const std::map<std::string, json> listed = by_key(rows_of(home.kind));
  for (const Leaf& leaf : leaves_of(home.file, home.section, home.key)) {
    CAPTURE(leaf.key, leaf.written);
    const auto found = listed.find(leaf.key);
    REQUIRE(found != listed.end());
    const json& row = found->second;
    CAPTURE(row.dump());
    CHECK(same(leaf.written, row.at("written")));
    const bool words = row.at("basis") == "";
    if (words) {
      // A kind, a form, a remark, the name of another entry; a number begins otherwise.
      CHECK(row.at("unit") == "");
      CHECK(std::isalpha(static_cast<unsigned char>(leaf.written.front())));
    } else {
      CHECK(row.at("basis") == leaf.basis);
      CHECK(row.at("source") == leaf.source);
      CHECK_FALSE(row.at("value") == "");
    }
  }
}

TEST_CASE("every section of the data files of materials and fits is listed", "[derived]") {
  const json rows = rows_of("materials");
  for (const auto& [section, unused] : test::data_file("seal_materials.toml")) {
    const std::string lead = std::string{section.str()} + '.';
    CAPTURE(lead);
    CHECK(std::ranges::any_of(
        rows, [&](const json& row) { return row.at("key").get<std::string>().starts_with(lead); }));
  }
  CHECK(test::data_file("fits.toml").size() == 1);
}

TEST_CASE("every band of every fit is listed", "[derived]") {
  const json rows = rows_of("fits");
  const toml::table fits = test::data_file("fits.toml");
  std::size_t at = 0;
  std::map<std::string, std::vector<json>> of_fit;
  for (const json& row : rows) of_fit[row.at("fit")].push_back(row);
  for (const auto& [id, entry] : *fits["fit"].as_table()) {
    const toml::table& fit = *entry.as_table();
    const toml::array& bands = *fit["bands"].as_array();
    REQUIRE(of_fit[std::string{id.str()}].size() == bands.size());
    for (std::size_t i = 0; i < bands.size(); ++i) {
      const toml::table& band = *bands[i].as_table();
      const json& row = of_fit[std::string{id.str()}][i];
      CAPTURE(row.dump());
      const auto shown = [&](const char* head, const char* unit) {
        return row.at(head).get<std::string>() + unit;
      };
      CHECK(band["above"].value<std::string>() == shown("above mm", " mm"));
      CHECK(band["up_to"].value<std::string>() == shown("up to mm", " mm"));
      CHECK(band["lower_deviation"].value<std::string>() == shown("lower deviation um", " um"));
      CHECK(band["upper_deviation"].value<std::string>() == shown("upper deviation um", " um"));
      const std::string basis = fit["basis"].value_or(std::string{});
      const std::string source = fit["source"].value_or(std::string{});
      CHECK(row.at("basis") == band["basis"].value_or(basis));
      CHECK(row.at("source") == band["source"].value_or(source));
      CHECK(row.at("title") == fit["title"].value_or(std::string{}));
      ++at;
    }
  }
  CHECK(at == rows.size());
}

TEST_CASE("the text of a list has the same parameters in the same order", "[derived]") {
  const std::string kind =
      GENERATE(as<std::string>{}, "lubricants", "materials", "contacts", "bearings", "rules");
  CAPTURE(kind);
  const std::vector<std::string> lines = test::lines_of(test::ohmdrag({"list", kind}).out);
  auto line = lines.begin();
  for (const json& row : rows_of(kind)) {
    const bool heads = row.at("name") == "title";
    // Long names are wrapped, never within this many letters.
    const std::string name = row.at(heads ? "entry" : "name").get<std::string>().substr(0, 12);
    CAPTURE(name);
    line = std::find_if(line, lines.end(), [&](const auto& l) { return l.starts_with(name); });
    REQUIRE(line != lines.end());
    ++line;
  }
}

TEST_CASE("a name as it is listed is a name that an override takes", "[derived]") {
  const std::map<std::string, json> listed = by_key(rows_of("contacts"));
  const std::string key = "contact.textile-ring-dense.resistance.bulk";
  REQUIRE(listed.contains(key));
  const std::string file = test::shipped_case("parcel-van").string();
  const test::Ran ran =
      test::ohmdrag({"check", file, "--json", "--quiet", "--set", key + "=77 ohm"});
  CAPTURE(ran.err);
  REQUIRE(ran.status == 0);
  const json values = json::parse(ran.out).at("rows");
  CHECK(std::ranges::any_of(
      values, [&](const json& row) { return row.at("key") == key && row.at("value") == "77"; }));
}

TEST_CASE("a data folder changes what is listed, whole entry by whole entry", "[derived]") {
  const test::Folder folder;
  folder.write("mine.toml", relaxed_fkm +
                                "[fit.mine]\ntitle = \"One drawing (invented)\"\nbasis = "
                                "\"drawing\"\nsource = \"invented\"\nbands = [{ above = \"40 mm\", "
                                "up_to = \"50 mm\", lower_deviation = \"-5 um\", upper_deviation "
                                "= \"5 um\" }]\n");
  const test::Arguments data{"--data", folder.path().string()};
  const std::map<std::string, json> listed = by_key(rows_of("materials", data));
  CHECK(listed.at("relaxation.fkm.chemical_time").at("written") == "12345 h");
  CHECK(listed.at("relaxation.fkm.chemical_time").at("basis") == "measured");
  CHECK(listed.at("relaxation.nbr.chemical_time") ==
        by_key(rows_of("materials")).at("relaxation.nbr.chemical_time"));
  const json fits = rows_of("fits", data);
  CHECK(fits.back().at("fit") == "mine");
  CHECK(fits.back().at("basis") == "drawing");
}

TEST_CASE("a broken entry of a data folder is complained of by its place", "[derived]") {
  const test::Folder folder;
  folder.write("mine.toml", "[wear.lip-dry]\nwear_rate = \"3 mm\"\n");
  const test::Ran ran = test::ohmdrag({"list", "materials", "--data", folder.path().string()});
  CHECK(ran.status == 2);
  CHECK(ran.out.empty());
  CHECK_THAT(ran.err, Catch::Matchers::Contains("mine.toml:2:"));
  CHECK_THAT(ran.err, Catch::Matchers::Contains("wear.lip-dry.wear_rate"));
}

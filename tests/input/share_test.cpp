#include <string>

#include "input/document.hpp"
#include "input/support.hpp"
#include "input/toml_text.hpp"
#include "ohmdrag/input/case_edition.hpp"

using namespace ohmdrag;
using test::Folder;
using test::load;
using test::smallest;

namespace {

const std::string two = smallest + R"([[variant]]
id = "dense-ring"
title = "Ring at 0.0153 N/mm"
like = "plain"
[variant.grounding]
element = "textile-ring-dense"
line_force = { value = "0.0153 N/mm ± 5 %", share = "internal", source = "rig, 0.0153 N/mm" }
position = "14 mm"   # 0.0153
path = { strap = "18 mm x 8 mm x 0.4 mm" }
)";

std::string with_seal() {
  return test::replaced(two, "title = \"One lip\"",
                        "title = \"One lip\"\nseal = \"a phrase of our own, long\"");
}

const UncertainNumber& force(const study::Case& question) {
  return *test::variant(question, "dense-ring").grounding->line_force;
}

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("a value or its table says who may read it", "[derived]") {
  const study::Case question = load(two);
  CHECK(force(question).share == Share::internal);
  CHECK(question.shafts[0].diameter.share == Share::customer);  // nobody said anything
  const study::Case shaft =
      load(test::replaced(two, "id = \"rotor\"\n", "id = \"rotor\"\nshare = \"open\"\n"));
  CHECK(shaft.shafts[0].diameter.share == Share::open);
  CHECK(input::case_from_text(smallest, "case.toml").shafts[0].conductivity.share ==
        Share::open);  // built in
}

TEST_CASE("another value is as secret as the one it replaces", "[derived]") {
  const std::string key = "variant.dense-ring.grounding.line_force";
  CHECK(force(load(two, {key + "=0.02 N/mm"})).share == Share::internal);
  CHECK(force(load(two, {key + "={ value = \"0.02 N/mm\", share = \"open\" }"})).share ==
        Share::open);
}

TEST_CASE("a word that is no level is refused", "[derived]") {
  CHECK_THAT(test::complaint(test::replaced(two, "\"internal\"", "\"secret\"")),
             Catch::Contains("read \"secret\", which is not a level of sharing"));
  CHECK_THAT(test::complaint(test::replaced(with_seal(), "a phrase of our own, long", "short")),
             Catch::Contains("study.seal: read 5 characters; expected 20 or more"));
}

TEST_CASE("an open edition holds a band and none of the values", "[derived]") {
  const Folder folder;
  const auto file = folder.write("case.toml", with_seal());
  const study::Case question = input::load_case(file, test::options());
  const input::CaseEdition edition = input::case_for(Share::customer, file, question);
  REQUIRE(edition.files.size() == 1);
  const std::string& text = edition.files[0].content;
  CHECK_FALSE(holds(text, "153"));
  CHECK_FALSE(holds(text, "a phrase"));
  CHECK(holds(text, "line_force = { value = \"0.01 … 0.1 N/mm\", share = \"internal\" }"));
  CHECK(holds(text, "title = \"Ring at [sealed]\""));
  CHECK(edition.sealed_sha256.size() == 64);

  const study::Case open = input::case_from_text(text, file, test::options());
  CHECK(force(open).spread.interval().low > 10.0);
  CHECK(force(open).spread.interval().high < 100.0);
  CHECK(open.shafts[0].diameter.mid() == question.shafts[0].diameter.mid());
}

TEST_CASE("the owner gets the same hashes again, another value another hash", "[derived]") {
  const Folder folder;
  const auto file = folder.write("case.toml", with_seal());
  const auto hash = [&](const std::string& text) {
    folder.write("case.toml", text);
    return input::case_for(Share::customer, file, input::load_case(file, test::options()))
        .sealed_sha256;
  };
  const std::string first = hash(with_seal());
  CHECK(hash(with_seal()) == first);
  CHECK(hash(test::replaced(with_seal(), "0.0153 N/mm ± 5 %", "0.0154 N/mm ± 5 %")) != first);
  CHECK(hash(test::replaced(with_seal(), "of our own", "of their own")) != first);
  CHECK(hash(two).empty());  // it could be found by trial
}

TEST_CASE("the own house gets the files as they are", "[derived]") {
  const Folder folder;
  const auto file = folder.write("case.toml", with_seal());
  const auto edition =
      input::case_for(Share::internal, file, input::load_case(file, test::options()));
  CHECK(edition.files[0].content == with_seal());
  CHECK(edition.sealed_sha256.empty());
}

TEST_CASE("a tree written as TOML reads back the same", "[derived]") {
  const std::string text = R"(title = "a \"b\" \\ é"
"key with blank" = 1
plain = [1, 2.0, -3e-9, true, "x"]
when = 2020-01-02
[a]
b = { c = "d", e = [{ f = 1 }] }
[a.g]
h = "i"
[[list]]
id = "one"
[list.inner]
x = 1
[[list]]
id = "two"
)";
  input::Problems problems;
  const std::string once = input::toml_text(input::parse_document(text, "t.toml", problems));
  const std::string twice = input::toml_text(input::parse_document(once, "t.toml", problems));
  problems.throw_if_any();
  CHECK(once == twice);
  CHECK(holds(once, "title = \"a \\\"b\\\" \\\\ é\""));
  CHECK(holds(once, "plain = [1, 2.0, -3e-09, true, \"x\"]"));
  CHECK(holds(once, "[[list]]\nid = \"one\"\n\n[list.inner]\nx = 1\n\n[[list]]\nid = \"two\"\n"));
}

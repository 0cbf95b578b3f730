#pragma once

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <string>

#include "program.hpp"
#include "support/in_source.hpp"

/// What the tests of all kinds of measured run share.
namespace ohmdrag::test {

using nlohmann::json;

/// The text with its first `what` changed; it has to be there.
inline std::string replaced(std::string text, const std::string& what, const std::string& by) {
  CAPTURE(what);
  const std::size_t at = text.find(what);
  REQUIRE(at != std::string::npos);
  return text.replace(at, what.size(), by);
}

/// `ohmdrag fit` of a run that lies beside its logs in a folder.
inline Ran fitted(const Folder& folder, const std::string& run, const Arguments& more = {}) {
  Arguments arguments{"fit", folder.write("run.toml", run).string()};
  arguments.insert(arguments.end(), more.begin(), more.end());
  return ohmdrag(arguments);
}

inline json document_of(const Ran& ran) {
  CAPTURE(ran.err);
  REQUIRE(ran.status == 0);
  return json::parse(ran.out);
}

/// The truth lies in the interval, of the ends that it has.
inline void check_holds(const json& estimate, double truth) {
  CAPTURE(estimate.dump(), truth);
  if (!estimate.at("low").is_null()) CHECK(estimate.at("low") <= truth);
  if (!estimate.at("high").is_null()) CHECK(estimate.at("high") >= truth);
}

inline void check_refused(const Ran& ran, const std::string& why) {
  CAPTURE(ran.err);
  CHECK(ran.status == 2);
  CHECK(ran.out.empty());
  CHECK_THAT(ran.err, Catch::Matchers::Contains(why));
}

/// Documents of fits in a folder follow their schema, and damaged copies of them do not.
inline void check_schema_of_fits(const Folder& documents) {
  const Ran valid =
      ran({"/usr/bin/python3", test::in_source("tests/report/validate.py"), "--strict",
           test::in_source("data/schema/ohmdrag-fit-1.json"), documents.path().string()});
  INFO(valid.out << valid.err);
  CHECK(valid.status == 0);
}

}  // namespace ohmdrag::test

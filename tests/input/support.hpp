#pragma once

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>
#include <vector>

#include "ohmdrag/input/load_case.hpp"
#include "ohmdrag/study/visit.hpp"
#include "support/in_source.hpp"

namespace ohmdrag::test {

inline const std::filesystem::path here{test::in_source("tests/input")};

inline input::LoadOptions options(std::vector<std::string> sets = {}) {
  return {std::move(sets), here / "data"};
}

/// A case of one lip on one shaft: the least that loads.
inline const std::string smallest = R"([study]
title = "One lip"
[[shaft]]
id = "rotor"
diameter = "45 mm"
[[operating_point]]
id = "fast"
shaft_speed = "9000 rpm"
oil_temperature = "70 degC"
[[variant]]
id = "plain"
[variant.seal]
element = "light-lip"
position = "12 mm"
)";

inline study::Case load(const std::string& text, std::vector<std::string> sets = {}) {
  return input::case_from_text(text, "case.toml", options(std::move(sets)));
}

inline std::vector<input::Problem> problems_of(const std::string& text,
                                               std::vector<std::string> sets = {}) {
  try {
    load(text, std::move(sets));
  } catch (const input::InputError& error) {
    return error.problems;
  }
  return {};
}

/// The only problem, in words.
inline std::string complaint(const std::string& text, std::vector<std::string> sets = {}) {
  const auto problems = problems_of(text, std::move(sets));
  CHECK(problems.size() == 1);
  return problems.empty() ? std::string{} : input::in_words(problems.front());
}

inline std::string replaced(std::string text, std::string_view what, std::string_view by) {
  const std::size_t at = text.find(what);
  REQUIRE(at != std::string::npos);
  return text.replace(at, what.size(), by);
}

inline std::string file_text(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  REQUIRE(in);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// A folder of its own for files of one test.
class Folder {
 public:
  Folder() : path_(std::filesystem::temp_directory_path() / name()) {
    std::filesystem::create_directories(path_);
  }
  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  std::filesystem::path write(const std::string& file, const std::string& text) const {
    std::ofstream(path_ / file, std::ios::binary) << text;
    return path_ / file;
  }
  const std::filesystem::path& path() const { return path_; }

 private:
  static std::string name() {
    static int count = 0;
    return "ohmdrag-input-" + std::to_string(std::hash<std::string>{}(here.string())) + "-" +
           std::to_string(++count);
  }
  std::filesystem::path path_;
};

inline const study::Variant& variant(const study::Case& question, std::string_view id) {
  const auto found = std::ranges::find(question.variants, id, &study::Variant::id);
  REQUIRE(found != question.variants.end());
  return *found;
}

}  // namespace ohmdrag::test

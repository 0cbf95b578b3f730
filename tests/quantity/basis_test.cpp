#include "ohmdrag/quantity/basis.hpp"

#include <catch2/catch.hpp>
#include <set>
#include <string>

using namespace ohmdrag;

TEST_CASE("every basis has a word of its own that leads back to it", "[quantity][derived]") {
  std::set<std::string_view> words;
  for (std::size_t i = 0; i < basis_words.size(); ++i) {
    const auto basis = static_cast<Basis>(i);
    words.insert(to_word(basis));
    CHECK(basis_from_word(to_word(basis)) == basis);
  }
  CHECK(words.size() == 13);
  CHECK(to_word(Basis::data_sheet) == "data-sheet");
  CHECK(to_word(Basis::single_claim) == "single-claim");
}

TEST_CASE("a word that is no basis is nothing", "[quantity][derived]") {
  for (const char* word : {"", "Measured", "data_sheet", "measured ", "guess"})
    CHECK_FALSE(basis_from_word(word).has_value());
}

TEST_CASE("a computed number carries the weakest basis it used", "[quantity][derived]") {
  CHECK(weakest(Basis::measured, Basis::assumed) == Basis::assumed);
  CHECK(weakest(Basis::derived, Basis::paper) == Basis::derived);
  CHECK(weakest(Basis::standard, Basis::standard) == Basis::standard);
  CHECK(rests_on_assumption(Basis::single_claim));
  CHECK(rests_on_assumption(Basis::unverified));
  CHECK(rests_on_assumption(Basis::assumed));
  CHECK_FALSE(rests_on_assumption(Basis::common_practice));
}

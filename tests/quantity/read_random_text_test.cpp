#include <catch2/catch.hpp>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "ohmdrag/quantity/read.hpp"
#include "support/effort.hpp"

using namespace ohmdrag;

namespace {

/// What every reading must leave behind: a distribution that can be drawn from, or a sentence.
void check_sane(const std::variant<Distribution, ReadProblem>& read) {
  if (const auto* problem = std::get_if<ReadProblem>(&read)) {
    REQUIRE(problem->what.starts_with("read \""));
    REQUIRE(problem->what.size() < 400);
    REQUIRE_FALSE(problem->hint.empty());
    return;
  }
  const auto& d = std::get<Distribution>(read);
  REQUIRE(std::isfinite(d.mid));
  REQUIRE(d.half_width >= 0.0);
  REQUIRE(std::isfinite(d.half_width));
  REQUIRE((d.shape == Shape::exact) == (d.half_width == 0.0));
  REQUIRE(std::isfinite(d.quantile(0.3)));
}

}  // namespace

TEST_CASE("no bytes crash the reader", "[quantity][derived]") {
  std::mt19937 random(7);
  std::uniform_int_distribution<std::size_t> length(0, 40);
  std::uniform_int_distribution<int> byte(0, 255);
  std::uniform_int_distribution<std::size_t> dimension(0, dimension_table().size() - 1);
  std::string text;
  for (int i = 0, times = test::effort(100000); i < times; ++i) {
    text.resize(length(random));
    for (char& c : text) c = static_cast<char>(byte(random));
    check_sane(read_quantity(text, dimension_table()[dimension(random)].dimension));
  }
}

TEST_CASE("no jumble of the pieces of quantities crashes the reader", "[quantity][derived]") {
  const std::vector<std::string> pieces{"1",    "0",        "9.5",   "-",   "+",        ".",    ",",
                                        "e",    "e9",       "1e300", "inf", "nan",      " ",    " ",
                                        "±",    "+/-",      "…",     "..",  "×/÷",      "x/:",  "%",
                                        "mm",   "N/mm",     "ohm",   "Ω",   "°",        "degC", "K",
                                        "/",    "^2",       "(",     ")",   "*",        "µ",    "m",
                                        "\xc2", "\xe2\x80", "1/s",   "rpm", "W/(m^2*K)"};
  std::mt19937 random(11);
  std::uniform_int_distribution<std::size_t> count(1, 8);
  std::uniform_int_distribution<std::size_t> piece(0, pieces.size() - 1);
  // The dimensions that the pieces have units of.
  const std::vector dimensions{Dimension::ratio,       Dimension::length,
                               Dimension::line_force,  Dimension::resistance,
                               Dimension::temperature, Dimension::rotational_speed};
  std::uniform_int_distribution<std::size_t> dimension(0, dimensions.size() - 1);
  std::size_t accepted = 0;
  for (int i = 0, times = test::effort(100000); i < times; ++i) {
    std::string text;
    for (std::size_t n = count(random); n > 0; --n) text += pieces[piece(random)];
    const Dimension expected = dimensions[dimension(random)];
    const auto read = read_quantity(text, expected);
    CAPTURE(text);
    check_sane(read);
    check_sane(read_spread(text, expected, 1.5));
    accepted += read.index() == 0 ? 1 : 0;
  }
  // The jumble must reach the accepting paths too, or it proves little.
  CHECK(accepted > 100);
}

// Loads a case, asks for its budget, and prints the watts of one component.

#include <cstdio>
#include <exception>

#include "ohmdrag/input/load_case.hpp"
#include "ohmdrag/study/evaluate.hpp"

int main(int argc, char** argv) {
  if (argc != 2) return 2;
  try {
    const auto question = ohmdrag::input::load_case(argv[1]);
    const auto findings = ohmdrag::study::evaluate(question, {.budget = true});
    for (const auto& row : findings.variants.at(0).budget)
      if (row.point == "cruise" && row.component == "seal") std::printf("%.6g\n", row.own_W.mid);
  } catch (const std::exception& e) {
    std::fprintf(stderr, "%s\n", e.what());
    return 1;
  }
}

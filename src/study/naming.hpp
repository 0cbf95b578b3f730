#pragma once

#include <fmt/format.h>

#include <stdexcept>

#include "ohmdrag/study/case.hpp"

namespace ohmdrag::study {

/// Calls a function; what it throws names the variant.
template <class Function>
void naming(const Variant& variant, const Function& function) {
  try {
    function();
  } catch (const std::invalid_argument& e) {
    throw std::invalid_argument(fmt::format("variant {}: {}", variant.id, e.what()));
  } catch (const std::domain_error& e) {
    throw std::domain_error(fmt::format("variant {}: {}", variant.id, e.what()));
  }
}

}  // namespace ohmdrag::study

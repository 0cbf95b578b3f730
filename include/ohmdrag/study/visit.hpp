#pragma once

#include <functional>

#include "ohmdrag/study/case.hpp"

/// Every uncertain number of a case, one after another in the order of the struct members: for the
/// draws, the register of assumptions and `check`.
namespace ohmdrag::study {

/// Visits the numbers of the case itself, those of its variants and of their elements included.
/// A variant's `world` is left out: it is const, and whoever changes numbers copies it first.
void for_each_number(Case& question, const std::function<void(UncertainNumber&)>& visit);

/// The same for reading, and after it the numbers of every variant's `world`. A number that several
/// places share comes once per place, each time with the same key.
void for_each_number(const Case& question,
                     const std::function<void(const UncertainNumber&)>& visit);

// The same for the parts that live outside a case too.
void for_each_number(const Lubricant& lubricant,
                     const std::function<void(const UncertainNumber&)>& visit);
void for_each_number(const Element& element,
                     const std::function<void(const UncertainNumber&)>& visit);
void for_each_number(const BearingType& type,
                     const std::function<void(const UncertainNumber&)>& visit);
void for_each_number(const DischargeConstants& constants,
                     const std::function<void(const UncertainNumber&)>& visit);
void for_each_number(const DamageLaw& law,
                     const std::function<void(const UncertainNumber&)>& visit);
/// Its `world` left out.
void for_each_number(const Variant& variant,
                     const std::function<void(const UncertainNumber&)>& visit);

}  // namespace ohmdrag::study

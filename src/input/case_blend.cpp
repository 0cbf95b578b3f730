#include "ohmdrag/input/case_blend.hpp"

#include <utility>

#include "input/case_from_tree.hpp"
#include "input/files.hpp"
#include "input/set_option.hpp"
#include "input/tree_difference.hpp"

namespace ohmdrag::input {

namespace fs = std::filesystem;

namespace {

struct OneSide {
  Node tree;  ///< its `--set`s laid over it
  study::Provenance provenance;
  study::Case question;
  std::vector<std::string> sets;
};

OneSide read_side(const fs::path& file, const LoadOptions& options, const Catalogue& catalogue) {
  OneSide side;
  Problems problems;
  side.tree = read_case_tree(file, problems, side.provenance);
  problems.throw_if_any();
  side.sets = options.sets;
  side.question = case_from_tree(side.tree, side.provenance, problems, side.sets, catalogue);
  apply_sets(side.tree, side.sets, problems);
  problems.throw_if_any();
  return side;
}

}  // namespace

struct CaseBlend::Inside {
  Catalogue catalogue;
  OneSide before, after;
  std::vector<TreeChange> differing;
  std::vector<study::InputChange> shown;
};

CaseBlend::CaseBlend(const fs::path& before, const LoadOptions& options_before,
                     const fs::path& after, const LoadOptions& options_after)
    : inside_(std::make_unique<Inside>(
          Inside{load_catalogue(options_before.data_folder), {}, {}, {}, {}})) {
  inside_->before = read_side(before, options_before, inside_->catalogue);
  inside_->after = read_side(after, options_after, inside_->catalogue);
  inside_->differing = differences(inside_->before.tree, inside_->after.tree);
  for (const TreeChange& change : inside_->differing) inside_->shown.push_back(change.shown);
}

CaseBlend::~CaseBlend() = default;

const study::Case& CaseBlend::before() const { return inside_->before.question; }
const study::Case& CaseBlend::after() const { return inside_->after.question; }
const std::vector<study::InputChange>& CaseBlend::changes() const { return inside_->shown; }

std::optional<study::Case> CaseBlend::between(study::Side of,
                                              std::span<const std::size_t> changes) const {
  const bool from_before = of == study::Side::before;
  const OneSide& side = from_before ? inside_->before : inside_->after;
  Node tree = side.tree;
  for (const std::size_t i : changes) apply(inside_->differing[i], from_before, tree);
  Problems problems;
  try {
    return case_from_tree(std::move(tree), side.provenance, problems, {}, inside_->catalogue);
  } catch (const InputError&) {
    return std::nullopt;
  }
}

}  // namespace ohmdrag::input

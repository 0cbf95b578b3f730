#include "ohmdrag/input/load_case.hpp"

#include <algorithm>
#include <memory>
#include <utility>

#include "input/case_from_tree.hpp"
#include "input/case_reader.hpp"
#include "input/files.hpp"
#include "input/inheritance.hpp"
#include "input/set_option.hpp"
#include "input/tables.hpp"

namespace ohmdrag::input {

study::Case case_from_tree(Node tree, study::Provenance provenance, Problems& problems,
                           std::span<const std::string> sets, const Catalogue& catalogue) {
  const std::string fallback_title = std::filesystem::path{provenance.file}.stem().string();
  apply_sets(tree, sets, problems);
  provenance.changes.assign(sets.begin(), sets.end());

  const auto read = [&](Node& whole) {
    resolve_likes(whole, problems);
    study::Case question = CaseReader{whole, catalogue.tables(), problems, fallback_title}.read();
    // Tables that the case names by file are its sources too.
    const auto tables = std::exchange(question.provenance, provenance).includes;
    question.provenance.includes.insert(question.provenance.includes.end(), tables.begin(),
                                        tables.end());
    if (question.inverter) {
      for (const BandEntry& band : catalogue.bands())
        question.bands.push_back({band.title, band.from, band.to});
      question.density_bands = catalogue.density_bands();
    }
    return question;
  };
  Node plain = tree;
  study::Case out = read(plain);

  for (std::size_t i = 0; i < out.variants.size(); ++i) {
    const Node& variant = plain.find("variant")->children[i];
    if (!variant.find("change")) continue;
    Node changed = changed_tree(tree, variant, problems);
    study::Case world = read(changed);
    // A change may touch the elements too; what it did not name is as before.
    if (i < world.variants.size()) out.variants[i] = std::move(world.variants[i]);
    // Figures of variants are compared duty by duty.
    if (!std::ranges::equal(world.duties, out.duties, {}, &study::Duty::id, &study::Duty::id))
      problems.add(variant.find("change")->place, variant.find("change")->origin,
                   "changes which duties there are; a variant may change what is in a duty, not "
                   "its start temperatures in a list");
    world.variants.clear();
    out.variants[i].world = std::make_shared<const study::Case>(std::move(world));
  }
  problems.throw_if_any();
  return out;
}

study::Case load_case(const std::filesystem::path& file, const LoadOptions& options) {
  Problems problems;
  study::Provenance provenance;
  Node tree = read_case_tree(file, problems, provenance);
  problems.throw_if_any();  // a broken file: what is missing then is no news
  return case_from_tree(std::move(tree), std::move(provenance), problems, options.sets,
                        load_catalogue(options.data_folder));
}

study::Case case_from_text(const std::string& text, const std::filesystem::path& name,
                           const LoadOptions& options) {
  Problems problems;
  study::Provenance provenance;
  Node tree = case_tree_from_text({text, sha256(text)}, name, problems, provenance);
  problems.throw_if_any();
  return case_from_tree(std::move(tree), std::move(provenance), problems, options.sets,
                        load_catalogue(options.data_folder));
}

}  // namespace ohmdrag::input

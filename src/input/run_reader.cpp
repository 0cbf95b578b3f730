#include <array>
#include <ranges>
#include <string>
#include <utility>
#include <vector>

#include "input/files.hpp"
#include "input/run_reading.hpp"
#include "input/set_option.hpp"
#include "ohmdrag/study/edition.hpp"

namespace ohmdrag::input {

namespace fs = std::filesystem;

namespace {

struct RunKind {
  std::string_view word;
  RunFit (*read)(RunReading&);
};
constexpr std::array kinds{
    RunKind{"endurance", read_endurance_run},
    RunKind{"impedance-sweep", read_impedance_sweep_run},
    RunKind{"shaft-voltage", read_shaft_voltage_run},
    RunKind{"sump-warm-up", read_sump_run},
    RunKind{"friction", read_friction_run},
    RunKind{"force", read_force_run},
    RunKind{"unit-drag", read_unit_drag_run},
    RunKind{"rig-comparison", read_rig_comparison_run},
};

std::vector<std::string> kind_words() {
  std::vector<std::string> words;
  for (const RunKind& kind : kinds) words.emplace_back(kind.word);
  return words;
}

std::string date_of(TableReader& run) {
  const Node* date = run.find("date");
  return date && date->kind == Node::Kind::date ? date->text : run.text("date");
}

RunFit read_run(const Node& root, Problems& problems, const LoadOptions& options) {
  std::vector<std::string> warnings;
  ReadContext context{problems,
                      warnings,
                      [](std::string_view) { return nullptr; },
                      {[](std::string_view, std::string_view) { return std::nullopt; },
                       [](std::string_view) { return std::vector<std::string>{}; }}};
  TableReader top(context, &root, {});
  TableReader run = top.required_table("run");
  problems.throw_if_any();
  const std::string word = run.word("kind", kind_words());
  problems.throw_if_any();  // of another kind every key would be wrong
  rig::RunFindings head;
  head.kind = word;
  head.title = run.text("title");
  head.specimen = run.text("specimen");
  head.date = date_of(run);
  head.oil = run.maybe_text("oil").value_or("");
  RunReading reading{problems, options, context, run, std::move(head), {}};
  RunFit fit = std::ranges::find(kinds, word, &RunKind::word)->read(reading);
  run.done();
  top.done();
  problems.throw_if_any();
  return fit;
}

}  // namespace

namespace {

Node run_tree(const fs::path& file, const LoadOptions& options) {
  Problems problems;
  study::Provenance provenance;
  Node tree = read_case_tree(file, problems, provenance);
  problems.throw_if_any();
  apply_sets(tree, options.sets, problems);
  problems.throw_if_any();
  return tree;
}

void collect_sealed(const Node& node, const LoadOptions& options, Share reader,
                    std::vector<std::string>& keys) {
  for (const Node& child : node.children) {
    if (child.holds_for_its_table()) continue;
    if (child.is_table() || child.is_array())
      collect_sealed(child, options, reader, keys);
    else if (is_sealed_for(reader, share_from_word(child.share).value_or(Share::customer)))
      keys.push_back(child.origin);
    if (child.key == "case" && child.is_text())
      for (const UncertainNumber& number : study::sealed_numbers(
               load_case(file_named_by(child), {{}, options.data_folder}), reader))
        keys.push_back(number.key);
  }
}

}  // namespace

std::vector<std::string> sealed_in_run(const fs::path& file, const LoadOptions& options,
                                       Share reader) {
  std::vector<std::string> keys;
  collect_sealed(run_tree(file, options), options, reader, keys);
  return keys;
}

RunFit load_run(const fs::path& file, const LoadOptions& options) {
  const Node tree = run_tree(file, options);
  Problems problems;
  return read_run(tree, problems, options);
}

}  // namespace ohmdrag::input

#include "ohmdrag/input/case_edition.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>
#include <string_view>

#include "input/document.hpp"
#include "input/files.hpp"
#include "input/toml_text.hpp"
#include "ohmdrag/study/edition.hpp"

namespace ohmdrag::input {
namespace {

/// What a sealed table may still say: names by which others find it, and what it is.
constexpr std::array<std::string_view, 8> stays{"id",      "basis", "share", "like",
                                                "element", "shaft", "kind",  "type"};

/// Texts for people, which may repeat a value.
constexpr std::array<std::string_view, 5> tells{"title", "question", "source", "observed",
                                                "events"};

class Sealing {
 public:
  Sealing(Share reader, const std::vector<UncertainNumber>& sealed)
      : reader_(reader), sealed_(sealed) {}

  /// Takes out of the tree what is sealed; true if there was anything.
  bool take_out(Node& tree) {
    const std::size_t before = taken_.size();
    bool had_seal = false;
    if (Node* study = tree.find("study"); study && reader_ != Share::internal)
      if (const Node* seal = study->find("seal"); seal && seal->is_text()) {
        seal_ = seal->text;
        had_seal = true;
        std::erase_if(study->children, [](const Node& child) { return child.key == "seal"; });
      }
    walk(tree);
    return had_seal || taken_.size() > before;
  }

  std::string hash() const {
    return taken_.empty() || seal_.empty() ? std::string() : sha256(seal_ + '\n' + taken_);
  }

 private:
  bool is_sealed(const Node& node) const {
    const auto level = share_from_word(node.share);
    return level && is_sealed_for(reader_, *level);
  }

  const UncertainNumber* number_at(const Node& node) const {
    const auto found = std::ranges::find(sealed_, node.origin, &UncertainNumber::key);
    return found == sealed_.end() ? nullptr : &*found;
  }

  void note(const Node& node) { taken_ += fmt::format("{} = {}\n", node.origin, typed(node)); }

  static std::string typed(const Node& node) {
    Node holder;
    holder.children.push_back(node);
    return toml_text(holder);
  }

  void walk(Node& node) {
    for (Node& child : node.children) {
      if (std::ranges::find(stays, child.key) != stays.end() && !child.is_table()) continue;
      if (std::ranges::find(tells, child.key) != tells.end() && child.is_text())
        child.text = study::without_sealed(child.text, sealed_);
      const UncertainNumber* number = number_at(child);
      if (number && is_sealed(child))
        put_band(child, *number);
      else if (child.is_value_table() && is_sealed(child))
        put_words(child);
      else if (child.is_table() || child.is_array())
        walk(child);
      else if (is_sealed(child) && !child.holds_for_its_table())
        put_words(child);
    }
  }

  /// The basis stays, the source may tell too much.
  void put_band(Node& node, const UncertainNumber& number) {
    note(node);
    const std::string band = study::band_in_words(number);
    Node value = text_node("value", band.empty() ? "sealed" : band);
    if (!node.is_table()) {
      value.key = node.key;
      replace(node, std::move(value));
      return;
    }
    std::erase_if(node.children,
                  [](const Node& child) { return child.key != "basis" && child.key != "share"; });
    node.children.insert(node.children.begin(), std::move(value));
  }

  void put_words(Node& node) {
    const bool bare_word =
        node.is_text() && node.text.find_first_of("0123456789") == std::string::npos;
    if (node.kind == Node::Kind::boolean || bare_word) return;
    note(node);
    replace(node, text_node(node.key, "sealed"));
  }

  static Node text_node(const std::string& key, const std::string& text) {
    Node node;
    node.kind = Node::Kind::text;
    node.key = key;
    node.text = text;
    return node;
  }

  static void replace(Node& node, Node by) {
    by.origin = node.origin;
    by.share = node.share;
    node = std::move(by);
  }

  Share reader_;
  const std::vector<UncertainNumber>& sealed_;
  std::string seal_;
  std::string taken_;
};

}  // namespace

CaseEdition case_for(Share reader, const std::filesystem::path& file, const study::Case& question) {
  const std::vector<UncertainNumber> sealed = study::sealed_numbers(question, reader);
  Sealing sealing(reader, sealed);
  CaseEdition out;
  Problems problems;
  const auto add = [&](const std::filesystem::path& path) {
    const std::optional<FileText> text = read_file(path, problems);
    if (!text) return;
    Node tree = parse_document(text->content, path.string(), problems);
    if (!sealing.take_out(tree)) {
      out.files.push_back({path.string(), text->content, text->sha256});
      return;
    }
    const std::string open =
        fmt::format("# The part of this file that is for {} readers.\n\n", to_word(reader)) +
        toml_text(tree);
    out.files.push_back({path.string(), open, sha256(open)});
  };
  add(file);
  for (const study::Provenance::Include& include : question.provenance.includes)
    if (std::filesystem::path(include.file).extension() == ".toml") add(include.file);
  problems.throw_if_any();
  out.sealed_sha256 = sealing.hash();
  return out;
}

}  // namespace ohmdrag::input

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

  const std::vector<std::string>& keys() const { return keys_; }

  std::string hash() const {
    return taken_.empty() || seal_.empty() ? std::string() : sha256(seal_ + '\n' + taken_);
  }

 private:
  bool is_sealed(const Node& node) const {
    if (const auto level = share_from_word(node.share)) return is_sealed_for(reader_, *level);
    // What says nothing is for customers; of the plain values of a case seeds, counts and names
    // stay.
    return is_sealed_for(reader_, Share::customer) && is_size(node);
  }

  /// "18 mm x 8 mm x 0.4 mm", "800 V", 0.95.
  static bool is_size(const Node& node) {
    if (node.kind == Node::Kind::real) return true;
    const std::size_t first = node.text.find_first_not_of("+-. ");
    return node.is_text() && first != std::string::npos && node.text[first] >= '0' &&
           node.text[first] <= '9';
  }

  const UncertainNumber* number_at(const Node& node) const {
    const auto found = std::ranges::find(sealed_, node.origin, &UncertainNumber::key);
    return found == sealed_.end() ? nullptr : &*found;
  }

  void note(const Node& node) { note(node, typed(node)); }
  void note(const Node& node, const std::string& value) {
    taken_ += fmt::format("{} = {}\n", node.origin, value);
    keys_.push_back(node.origin);
  }

  static std::string typed(const Node& node) {
    Node holder;
    holder.children.push_back(node);
    return toml_text(holder);
  }

  void walk(Node& node) {
    for (Node& child : node.children) {
      if (std::ranges::find(stays, child.key) != stays.end() && child.is_text()) continue;
      if (std::ranges::find(tells, child.key) != tells.end() && child.is_text())
        child.text = study::without_sealed(child.text, sealed_);
      const UncertainNumber* number = number_at(child);
      if (number)
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
    if (const std::string hash = hash_of_named_file(node); !hash.empty())
      note(node, "the file with SHA-256 " + hash);
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
  std::vector<std::string> keys_;
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
  out.sealed_keys = sealing.keys();
  out.sealed_sha256 = sealing.hash();
  return out;
}

}  // namespace ohmdrag::input

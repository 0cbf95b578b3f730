#include "input/tree_difference.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "input/files.hpp"

namespace ohmdrag::input {
namespace {

constexpr std::array words_alone{std::string_view("title"), std::string_view("question"),
                                 std::string_view("source"), std::string_view("basis"),
                                 std::string_view("invented")};

/// An array whose members go by their ids.
bool by_id(const Node& array) {
  return array.is_array_of_tables() && std::ranges::none_of(array.children, [](const Node& member) {
           return id_of(member).empty();
         });
}

bool is_branch(const Node& node) { return node.is_table() && !node.is_value_table(); }

/// Equal as typed, and the files they name equal too.
bool alike(const Node& a, const Node& b) {
  if (written(a) != written(b)) return false;
  if (a.is_text()) return hash_of_named_file(a) == hash_of_named_file(b);
  return std::ranges::equal(a.children, b.children, alike);
}

std::string shown_text(const Node& node, const Node* other) {
  std::string text = written(node);
  if (other && written(*other) == text)
    if (const std::string hash = hash_of_named_file(node); !hash.empty())
      text += fmt::format(", SHA-256 {}", hash.substr(0, 12));
  return text;
}

std::string basis_shown(const Node& node) {
  const Node* own = node.is_table() ? node.find("basis") : nullptr;
  return own && own->is_text() ? own->text : node.basis;
}

/// Of the value and all that is in it; what says nothing is for customers.
Share most_closed(const Node& node) {
  Share closed = share_from_word(node.share).value_or(Share::customer);
  for (const Node& child : node.children) closed = std::max(closed, most_closed(child));
  return closed;
}

std::string dotted(const TreePath& parent, const std::string& word) {
  std::string text;
  for (const std::string& one : parent) text += one + '.';
  return text + word;
}

/// Walks both trees together.
class Walk {
 public:
  explicit Walk(std::vector<TreeChange>& out) : out_(out) {}

  void tables(const Node& a, const Node& b, const TreePath& path) {
    const std::size_t first = out_.size();
    for (const Node& child : a.children) pair(&child, b.find(child.key), path, child.key);
    for (const Node& child : b.children)
      if (!a.find(child.key)) pair(nullptr, &child, path, child.key);
    join_alternatives(a, path, first);
  }

 private:
  void pair(const Node* a, const Node* b, const TreePath& parent, const std::string& word) {
    TreePath path = parent;
    path.push_back(word);
    if (a && b && is_branch(*a) && is_branch(*b)) return tables(*a, *b, path);
    if (a && b && by_id(*a) && by_id(*b)) return members(*a, *b, path);
    if (a && b && alike(*a, *b)) return;
    TreeChange change;
    change.edits.push_back(
        {parent, word, a ? std::optional(*a) : std::nullopt, b ? std::optional(*b) : std::nullopt});
    change.shown.key = dotted(parent, word);
    if (a) change.shown.before = shown_text(*a, b), change.shown.basis_before = basis_shown(*a);
    if (b) change.shown.after = shown_text(*b, a), change.shown.basis_after = basis_shown(*b);
    for (const Node* side : {a, b})
      if (side) change.shown.share = std::max(change.shown.share, most_closed(*side));
    change.shown.words_only = std::ranges::find(words_alone, word) != words_alone.end();
    out_.push_back(std::move(change));
  }

  void members(const Node& a, const Node& b, const TreePath& path) {
    for (const Node& member : a.children) {
      const std::string id{id_of(member)};
      pair(&member, find_id(b, id), path, id);
    }
    for (const Node& member : b.children)
      if (const std::string id{id_of(member)}; !find_id(a, id)) pair(nullptr, &member, path, id);
  }

  /// What is taken away because another key now says it goes with that key.
  void join_alternatives(const Node& a, const TreePath& path, std::size_t first) {
    for (std::size_t i = first; i < out_.size(); ++i) {
      const TreeChange::Edit edit = out_[i].edits.front();
      if (edit.parent != path || edit.before) continue;
      Node without = a;
      drop_alternatives(without, edit.word);
      for (std::size_t j = first; j < out_.size();) {
        const TreeChange::Edit& gone = out_[j].edits.front();
        if (j == i || gone.parent != path || gone.after || without.find(gone.word)) {
          ++j;
          continue;
        }
        out_[i].shown.before = fmt::format("{} = {}", gone.word, written(*gone.before));
        out_[i].shown.basis_before = out_[j].shown.basis_before;
        out_[i].shown.share = std::max(out_[i].shown.share, out_[j].shown.share);
        out_[i].edits.insert(out_[i].edits.begin(), gone);
        out_.erase(out_.begin() + static_cast<std::ptrdiff_t>(j));
        if (j < i) --i;
      }
    }
  }

  std::vector<TreeChange>& out_;
};

Node* step(Node& at, const std::string& word) {
  return at.is_array() ? find_id(at, word) : at.find(word);
}

void lay(Node& parent, const std::string& word, const std::optional<Node>& value) {
  Node* old = step(parent, word);
  if (old && value)
    *old = *value;
  else if (old)
    parent.children.erase(parent.children.begin() + (old - parent.children.data()));
  else if (value)
    parent.children.push_back(*value);
}

}  // namespace

std::string written(const Node& node) {
  if (!node.is_array() && !node.is_table()) return node.as_typed();
  std::string text;
  for (const Node& child : node.children) {
    text += text.empty() ? "" : ", ";
    if (node.is_table()) text += child.key + " = ";
    text += written(child);
  }
  return node.is_array() ? fmt::format("[{}]", text) : fmt::format("{{ {} }}", text);
}

std::vector<TreeChange> differences(const Node& before, const Node& after) {
  std::vector<TreeChange> result;
  Walk(result).tables(before, after, {});
  std::ranges::stable_sort(result, {}, [](const TreeChange& change) { return change.shown.key; });
  return result;
}

void apply(const TreeChange& change, bool as_after, Node& tree) {
  for (const TreeChange::Edit& edit : change.edits) {
    Node* parent = &tree;
    for (const std::string& word : edit.parent)
      if (parent) parent = step(*parent, word);
    if (parent) lay(*parent, edit.word, as_after ? edit.after : edit.before);
  }
}

}  // namespace ohmdrag::input

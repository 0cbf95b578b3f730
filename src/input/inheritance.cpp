#include "input/inheritance.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <string>
#include <vector>

#include "input/set_option.hpp"

namespace ohmdrag::input {

namespace {

class Inheritance {
 public:
  Inheritance(Node& variants, Problems& problems) : variants_(variants), problems_(problems) {
    for (const Node& variant : variants.children) ids_.emplace_back(id_of(variant));
  }

  void resolve(Node& variant) {
    const Node* like = variant.find("like");
    if (!like || !like->is_text()) return;  // another kind is the reader's complaint
    const std::string from = like->text;
    Node* parent = find_id(variants_, from);
    if (!parent) {
      problems_.add(like->place, like->origin,
                    fmt::format("read \"{}\", but there is no such variant", from),
                    suggestion(from, ids_));
      return drop(variant);
    }
    chain_.emplace_back(id_of(variant));
    if (std::ranges::find(chain_, from) != chain_.end()) {
      problems_.add(like->place, like->origin,
                    fmt::format("runs in a circle: {} -> {}", fmt::join(chain_, " -> "), from));
      chain_.pop_back();
      return drop(variant);
    }
    resolve(*parent);
    chain_.pop_back();
    Node whole = *parent;
    // The parent's name is not inherited.
    std::erase_if(whole.children, [](const Node& child) {
      return child.key == "id" || child.key == "title" || child.key == "like";
    });
    merge(whole, variant);
    whole.place = variant.place;
    whole.origin = variant.origin;
    whole.basis = variant.basis;
    whole.source = variant.source;
    whole.share = variant.share;
    variant = whole;
    drop(variant);
  }

 private:
  /// Done with; a second pass must not copy again.
  static void drop(Node& variant) {
    std::erase_if(variant.children, [](const Node& child) { return child.key == "like"; });
  }

  Node& variants_;
  Problems& problems_;
  std::vector<std::string> ids_;
  std::vector<std::string> chain_;
};

/// One change: a quoted path sets a value; nested tables are walked to their values.
void apply_change(Node& root, const Node& change, const std::string& path, Problems& problems) {
  if (change.is_table() && !change.is_value_table() && path.find('.') == std::string::npos) {
    for (const Node& child : change.children)
      apply_change(root, child, path.empty() ? child.key : path + '.' + child.key, problems);
    return;
  }
  set_at(root, path, change, change.origin, problems);
}

}  // namespace

void resolve_likes(Node& root, Problems& problems) {
  Node* variants = root.find("variant");
  if (!variants || !variants->is_array_of_tables()) return;
  Inheritance inheritance{*variants, problems};
  for (Node& variant : variants->children) inheritance.resolve(variant);
}

Node changed_tree(const Node& root, const Node& variant, Problems& problems) {
  Node world = root;
  if (const Node* change = variant.find("change"); change && change->is_table())
    apply_change(world, *change, {}, problems);
  return world;
}

}  // namespace ohmdrag::input

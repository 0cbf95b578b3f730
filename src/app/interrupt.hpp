#pragma once

namespace ohmdrag::app {

/// While it lives, the first Ctrl-C (SIGINT) or SIGTERM is only noted, so that work can end in good
/// order; the second one ends the program as usual. A signal that was ignored before stays ignored.
/// One at a time.
class InterruptWatch {
 public:
  InterruptWatch();
  ~InterruptWatch();
  InterruptWatch(const InterruptWatch&) = delete;
  InterruptWatch& operator=(const InterruptWatch&) = delete;

  static bool interrupted();
};

}  // namespace ohmdrag::app

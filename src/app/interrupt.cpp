#include "app/interrupt.hpp"

#include <array>
#include <atomic>
#include <csignal>

namespace ohmdrag::app {
namespace {

// A signal handler can reach nothing but a global, and only one that needs no lock.
std::atomic<bool> noted = false;
static_assert(std::atomic<bool>::is_always_lock_free);

constexpr std::array watched{SIGINT, SIGTERM};
std::array<struct sigaction, watched.size()> before;

}  // namespace

InterruptWatch::InterruptWatch() {
  noted = false;
  struct sigaction action {};
  action.sa_handler = [](int) { noted = true; };
  // Once: the second signal finds the usual end. A write that is under way goes on.
  action.sa_flags = static_cast<int>(SA_RESETHAND) | SA_RESTART;
  for (std::size_t i = 0; i < watched.size(); ++i) {
    ::sigaction(watched[i], nullptr, &before[i]);
    if (before[i].sa_handler != SIG_IGN) ::sigaction(watched[i], &action, nullptr);
  }
}

InterruptWatch::~InterruptWatch() {
  for (std::size_t i = 0; i < watched.size(); ++i) ::sigaction(watched[i], &before[i], nullptr);
}

bool InterruptWatch::interrupted() { return noted; }

}  // namespace ohmdrag::app

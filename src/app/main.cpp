// The only place that prints, writes files and knows exit codes.
//
//   0 done; 2 input or usage wrong, nothing written; 3 a requirement is not met (--strict);
//   1 anything else.

#include <CLI/CLI.hpp>
#include <iostream>
#include <stdexcept>

#include "app/commands.hpp"
#include "app/files.hpp"
#include "ohmdrag/input/input_error.hpp"

int main(int argc, char** argv) {
  using namespace ohmdrag;
  try {
    CLI::App cli{"ohmdrag: what grounding a rotor shaft costs in watts and what it buys"};
    app::Exit exit = app::Exit::done;
    app::declare_commands(cli, exit);
    try {
      cli.parse(argc, argv);
    } catch (const CLI::ParseError& e) {
      return cli.exit(e) == 0 ? 0 : static_cast<int>(app::Exit::bad_input);
    }
    std::cout.flush();
    if (!std::cout) throw app::WriteError("cannot write to standard output");
    return static_cast<int>(exit);
  } catch (const input::InputError& e) {
    std::cerr << e.what() << '\n';
    return static_cast<int>(app::Exit::bad_input);
  } catch (const app::UsageError& e) {
    std::cerr << "ohmdrag: " << e.what() << '\n';
    return static_cast<int>(app::Exit::bad_input);
  } catch (const std::invalid_argument& e) {  // a formula is not defined for the case
    std::cerr << "ohmdrag: " << e.what() << '\n';
    return static_cast<int>(app::Exit::bad_input);
  } catch (const std::domain_error& e) {  // the case has no solution
    std::cerr << "ohmdrag: " << e.what() << '\n';
    return static_cast<int>(app::Exit::bad_input);
  } catch (const std::exception& e) {
    std::cerr << "ohmdrag: " << e.what() << '\n';
    return static_cast<int>(app::Exit::failed);
  }
}

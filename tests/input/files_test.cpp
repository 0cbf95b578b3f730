#include <ctime>
#include <string>

#include "input/files.hpp"
#include "input/support.hpp"

using namespace ohmdrag;
using test::Folder;
using test::smallest;

namespace {

std::string refusal(const std::filesystem::path& file) {
  try {
    input::load_case(file, test::options());
  } catch (const input::InputError& error) {
    CHECK(error.problems.size() == 1);
    return error.what();
  }
  return {};
}

bool has(const std::string& text, const std::string& words) {
  CAPTURE(text, words);
  return text.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("files that are no case are refused in one line", "[derived]") {
  const Folder folder;
  CHECK(has(refusal(folder.path() / "absent.toml"), "no such file"));
  CHECK(has(refusal(folder.path()), "is a folder"));
  CHECK(has(refusal(folder.write("empty.toml", "")), "is empty"));
  CHECK(has(refusal(folder.write("blank.toml", " \n\n")), "is empty"));
  CHECK(has(refusal(folder.write("nul.toml", std::string("a = 1\n\0b", 8))), "NUL byte in line 2"));
  CHECK(has(refusal(folder.write("latin.toml",
                                 "title = \"Pr\xFC"
                                 "fstand\"\n")),
            "not UTF-8"));
  CHECK(has(refusal(folder.write("broken.toml", "[study]\ntitle = \"open\n")), "broken.toml:2"));
  CHECK(has(refusal(folder.write("twice.toml", "[study]\nseed = 1\nseed = 2\n")), "twice.toml:3"));
}

TEST_CASE("a huge file is refused within a second and not read", "[derived]") {
  const Folder folder;
  const auto file = folder.write("huge.toml", "x");
  std::filesystem::resize_file(file, 100'000'000);
  const std::clock_t start = std::clock();
  CHECK(has(refusal(file), "is 100 MB large"));
  CHECK(std::clock() - start < CLOCKS_PER_SEC);
}

TEST_CASE("a byte-order mark and Windows line ends are accepted", "[derived]") {
  const Folder folder;
  std::string text = "\xEF\xBB\xBF";
  for (const char c : smallest) text += c == '\n' ? std::string{"\r\n"} : std::string{c};
  const study::Case c = input::load_case(folder.write("windows.toml", text), test::options());
  CHECK(c.title == "One lip");
}

TEST_CASE("includes are merged key by key, later wins", "[derived]") {
  const Folder folder;
  folder.write("a.toml",
               "[[shaft]]\nid = \"rotor\"\ndiameter = \"40 mm\"\nfit = \"h11\"\nbasis = "
               "\"drawing\"\nsource = \"drawing A\"\n[study]\nseed = 3\n");
  folder.write("b.toml", "[study]\nseed = 4\n");
  const study::Case c =
      input::load_case(folder.write("case.toml", "include = [\"a.toml\", \"b.toml\"]\n" + smallest),
                       test::options());
  REQUIRE(c.shafts.size() == 1);
  CHECK(c.shafts[0].diameter.mid() == Approx(0.045));
  CHECK(c.shafts[0].fit == "h11");
  CHECK(c.seed == 4);
  // The basis of the included table is that of the included keys only.
  CHECK(c.shafts[0].diameter.basis == Basis::assumed);
  CHECK(c.provenance.includes.size() == 2);
}

TEST_CASE("an include that is missing or runs in a circle is refused", "[derived]") {
  const Folder folder;
  CHECK(has(refusal(folder.write("case.toml", "include = [\"none.toml\"]\n" + smallest)),
            "no such file"));
  folder.write("back.toml", "include = [\"circle.toml\"]\n");
  CHECK(has(refusal(folder.write("circle.toml", "include = [\"back.toml\"]\n" + smallest)),
            "circle"));
  CHECK(has(refusal(folder.write("itself.toml", "include = \"itself.toml\"\n" + smallest)),
            "circle"));
}

TEST_CASE("the hash of a file is its SHA-256", "[printed]") {
  // NIST, Secure Hash Standard, example of SHA-256 for the one-block message "abc".
  CHECK(input::sha256("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}

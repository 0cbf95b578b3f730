// The reports of a trade study: which of them are written, and what happens without a printer.

#include <catch2/catch.hpp>

#include "program.hpp"

using namespace ohmdrag;
namespace fs = std::filesystem;

namespace {

/// The program finds other programs nowhere else.
test::Surroundings with_path(const std::string& path) {
  test::Surroundings around;
  around.environment["PATH"] = path;
  return around;
}

test::Arguments trade_into(const fs::path& folder, test::Arguments flags = {}) {
  test::Arguments all{"trade", test::shipped_case("buys-nothing").string(), "--out",
                      folder.string()};
  all.insert(all.end(), flags.begin(), flags.end());
  return all;
}

}  // namespace

TEST_CASE("--out writes the page and says where it is", "[derived]") {
  const test::Folder folder;
  const test::Ran ran = test::ohmdrag(trade_into(folder.path()));
  CHECK(ran.status == 0);
  CHECK_THAT(ran.out,
             Catch::Matchers::Contains("Report: " + (folder.path() / "report.html").string()));
  CHECK_THAT(test::file_text(folder.path() / "report.html"),
             Catch::Matchers::StartsWith("<!DOCTYPE html>"));
  CHECK_FALSE(fs::exists(folder.path() / "report.pdf"));  // needs another program: on request
}

TEST_CASE("a report needs a folder to go to", "[derived]") {
  CHECK(test::ohmdrag({"trade", test::shipped_case("buys-nothing").string(), "--html"}).status ==
        2);
}

TEST_CASE("without a browser there is no PDF, everything else, and a word why", "[derived]") {
  const test::Folder folder;
  const test::Ran ran = test::ohmdrag(trade_into(folder.path(), {"--html", "--pdf"}),
                                      with_path(folder.path().string()));
  CHECK(ran.status == 1);
  CHECK_THAT(ran.err, Catch::Matchers::Contains("report.pdf") &&
                          Catch::Matchers::Contains("Chromium, and none is installed"));
  CHECK(test::lines_of(ran.err).size() == 1);
  CHECK(fs::exists(folder.path() / "report.html"));
  CHECK(fs::exists(folder.path() / "result.json"));
  CHECK_FALSE(fs::exists(folder.path() / "report.pdf"));
}

TEST_CASE("a browser that fails leaves the old PDF", "[derived]") {
  const test::Folder folder;
  folder.write("report.pdf", "old");
  const fs::path broken = folder.write("chromium", "#!/bin/sh\nexit 3\n");
  fs::permissions(broken, fs::perms::owner_all);
  const test::Ran ran = test::ohmdrag(trade_into(folder.path(), {"--pdf"}),
                                      with_path(folder.path().string() + ":/usr/bin:/bin"));
  CHECK(ran.status == 1);
  CHECK_THAT(ran.err, Catch::Matchers::Contains("failed with status 3"));
  CHECK(test::file_text(folder.path() / "report.pdf") == "old");
}

TEST_CASE("a PDF does not tell when it was printed", "[derived]") {
  std::string first;
  for (const char* date : {"20240229235959", "20310101000001"}) {
    const test::Folder folder;
    const std::string print = std::string("#!/bin/sh\n") +
                              "for word in \"$@\"; do\n"
                              "  case \"$word\" in --print-to-pdf=*) made=\"${word#*=}\";; esac\n"
                              "done\n"
                              "echo \"%PDF-1.4 <</CreationDate (D:" +
                              date + "+01'00') /ModDate (D:" + date +
                              "+01'00') /Title (D:20240229235959)>>\" > \"$made\"\n";
    const fs::path chromium = folder.write("chromium", print);
    fs::permissions(chromium, fs::perms::owner_all);
    REQUIRE(test::ohmdrag(trade_into(folder.path(), {"--pdf"}),
                          with_path(folder.path().string() + ":/usr/bin:/bin"))
                .status == 0);
    const std::string pdf = test::file_text(folder.path() / "report.pdf");
    CHECK_THAT(pdf, Catch::Matchers::Contains("/CreationDate (D:19800101000000+01'00')"));
    CHECK_THAT(pdf, Catch::Matchers::Contains("/Title (D:20240229235959)"));
    if (first.empty()) first = pdf;
    CHECK(pdf == first);
  }
}

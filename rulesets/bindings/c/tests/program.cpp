// What a program in C++ sees: the demo through the small wrapper, and failures as exceptions.
//
//     program DEMO.yaml

#include "cellrules.hpp"

#include <fstream>
#include <iostream>
#include <iterator>

namespace {

int failed = 0;
int passed = 0;

void expect(bool holds, const char *what) {
    (holds ? passed : failed) += 1;
    if (!holds) {
        std::cerr << "program.cpp: not so: " << what << '\n';
    }
}

bool has(const std::string &text, const char *part) { return text.find(part) != std::string::npos; }

void a_failure_says_why(const cellrules::Rules &rules) {
    try {
        rules.check("bad.yaml", "format: 1\ntitle: A torch\narrangment: 1S1P\n");
        expect(false, "a bad proposal throws");
    } catch (const cellrules::Failure &failure) {
        expect(failure.status() == CELLRULES_STATUS_NOT_USABLE, "it cannot be used");
        expect(has(failure.what(), "bad.yaml:3:1"), "the words have the place");
        expect(has(failure.problems(), "\"problems\""), "the problems are data");
    }
    try {
        cellrules::Rules::of("club.yaml", "format: 1\nruleset: Club\n");
        expect(false, "bad rules throw");
    } catch (const cellrules::Failure &failure) {
        expect(has(failure.problems(), "club.yaml"), "the problems name the file");
    }
}

} // namespace

int main(int count, char **arguments) {
    if (count != 2) {
        std::cerr << "usage: program DEMO.yaml\n";
        return 2;
    }
    std::ifstream file(arguments[1]);
    const std::string demo((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
    auto rules = cellrules::Rules::shipped();
    const auto moved = std::move(rules);
    const auto report = moved.report(arguments[1], demo);
    expect(report.verdict == CELLRULES_VERDICT_REFUSE, "the demo is refused");
    expect(has(report.json, "\"notice\""), "the report has the notice");
    expect(moved.check(arguments[1], demo).verdict == report.verdict, "the record says the same");
    expect(has(moved.words(), "\"notice\""), "the words have the notice");
    a_failure_says_why(moved);
    std::cout << "C++: " << passed << " passed, " << failed << " failed\n";
    return failed == 0 ? 0 : 1;
}

// cellrules for C++17: rules and texts that free themselves, and failures as exceptions. Everything
// it says of safety and threads stands in cellrules.h.

#ifndef CELLRULES_HPP
#define CELLRULES_HPP

#include "cellrules.h"

#include <memory>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>

namespace cellrules {

// A call that failed: why, in words, and the problems as JSON if the input could not be used.
class Failure : public std::runtime_error {
public:
    Failure(cellrules_status status, std::string problems)
        : std::runtime_error(cellrules_last_error()), status_(status), problems_(std::move(problems)) {}

    cellrules_status status() const noexcept { return status_; }
    const std::string &problems() const noexcept { return problems_; }

private:
    cellrules_status status_;
    std::string problems_;
};

// A verdict with its record or report as JSON.
struct Answer {
    cellrules_verdict verdict;
    std::string json;
};

// Rules, loaded once, for any number of threads.
class Rules {
public:
    static Rules shipped() {
        cellrules_rules *rules = nullptr;
        require(cellrules_load_shipped(&rules), {});
        return Rules(rules);
    }

    // One ruleset in memory, which may extend shipped ones.
    static Rules of(const std::string &name, std::string_view text) {
        const char *const names[] = {name.c_str()};
        const cellrules_named_text texts[] = {{name.c_str(), bytes_of(text), text.size()}};
        cellrules_rules *rules = nullptr;
        Text problems;
        require(cellrules_load(names, 1, texts, 1, &rules, &problems.text), problems);
        return Rules(rules);
    }

    // The lean record of a proposal. A name that ends in `.json` is read as JSON, others as YAML.
    Answer check(const std::string &name, std::string_view proposal) const {
        return answer(cellrules_check, name, proposal);
    }

    // The whole report of a proposal.
    Answer report(const std::string &name, std::string_view proposal) const {
        return answer(cellrules_report, name, proposal);
    }

    // The words of the rules and the standing notice, as JSON.
    std::string words() const {
        Text words;
        require(cellrules_words(rules_.get(), &words.text), {});
        return words.copied();
    }

private:
    struct Text {
        Text() = default;
        Text(const Text &) = delete;
        Text &operator=(const Text &) = delete;
        ~Text() { cellrules_free_text(&text); }

        std::string copied() const {
            return std::string(reinterpret_cast<const char *>(text.bytes), text.length);
        }

        cellrules_text text = {nullptr, 0};
    };

    struct Free {
        void operator()(cellrules_rules *rules) const noexcept { cellrules_free_rules(rules); }
    };

    using Call = cellrules_status (*)(const cellrules_rules *, const char *, const uint8_t *, size_t,
                                      cellrules_verdict *, cellrules_text *);

    explicit Rules(cellrules_rules *rules) : rules_(rules) {}

    Answer answer(Call call, const std::string &name, std::string_view proposal) const {
        cellrules_verdict verdict = CELLRULES_VERDICT_NONE;
        Text text;
        const auto status = call(rules_.get(), name.c_str(), bytes_of(proposal), proposal.size(),
                                 &verdict, &text.text);
        require(status, text);
        return {verdict, text.copied()};
    }

    static const uint8_t *bytes_of(std::string_view text) noexcept {
        return reinterpret_cast<const uint8_t *>(text.data());
    }

    static void require(cellrules_status status, const Text &problems) {
        if (status != CELLRULES_STATUS_OK) {
            throw Failure(status, problems.copied());
        }
    }

    std::unique_ptr<cellrules_rules, Free> rules_;
};

} // namespace cellrules

#endif // CELLRULES_HPP

// cellrules: checks a proposed use of rescued lithium-ion cells in a light against rulesets of trade
// cautions, and says pass, warn or refuse with reasons.
//
// Regulators and a large cell maker advise against loose or salvaged cells at all. A pass overrules
// neither them nor local law, makers' sheets, local codes or licensed practice. Whoever shows an
// answer shows the standing notice too: reports hold it, and `cellrules_words` gives it.
//
// What every call asks of its caller: a pointer is null or points to what its type says, as many as
// the count beside it says, aligned, and nobody changes or frees it during the call; a `char *` ends
// with a NUL. A place that a call writes is overwritten: free a text before it is used again. Null
// where something is needed, a length that no memory has and a name that is not UTF-8 are found and
// give CELLRULES_STATUS_BAD_ARGUMENT.
//
// Threads: rules may be used by any number of threads at once; free them when none uses them any
// more. The last error belongs to the thread that failed. A text may be freed by any thread, once.
//
// This file is made of the library's source by `UPDATE_HEADER=1 ./test.sh`.

#ifndef CELLRULES_H
#define CELLRULES_H

#include <stddef.h>
#include <stdint.h>

// How a call ended.
typedef enum {
  // It did what was asked.
  CELLRULES_STATUS_OK = 0,
  // The rules or the proposal cannot be used. The text that was asked for holds a JSON object
  // with `problems`: each has its kind, message, help and place.
  CELLRULES_STATUS_NOT_USABLE = 1,
  // A pointer is null that must not be, a length is one that no memory has, or a name is not
  // UTF-8.
  CELLRULES_STATUS_BAD_ARGUMENT = 2,
  // A fault of this library. Nothing of the caller was changed.
  CELLRULES_STATUS_INTERNAL = 3,
} cellrules_status;

// What an answer comes to. Zero is no verdict, so that forgotten memory never reads as a pass.
typedef enum {
  // There is none: the call failed.
  CELLRULES_VERDICT_NONE = 0,
  // No caution of the rules speaks against the plan. This overrules no maker, regulator or local
  // code.
  CELLRULES_VERDICT_PASS = 1,
  // Something is to be watched.
  CELLRULES_VERDICT_WARN = 2,
  // Something speaks against the plan, or is not known well enough to tell.
  CELLRULES_VERDICT_REFUSE = 3,
} cellrules_verdict;

// Rules, loaded. They are never changed, and any number of threads may check by them at once.
typedef struct cellrules_rules cellrules_rules;

// A ruleset in memory, with the name that others extend it by.
typedef struct {
  // Its name, such as `club.yaml`, which ends with a NUL.
  const char *name;
  // The first byte. It is read during the call alone.
  const uint8_t *bytes;
  // How many bytes.
  size_t length;
} cellrules_named_text;

// A text that this library made. A NUL stands behind it that `length` does not count.
typedef struct {
  // The first byte, of UTF-8; null if there is no text.
  uint8_t *bytes;
  // How many bytes, without the NUL.
  size_t length;
} cellrules_text;

#ifdef __cplusplus
extern "C" {
#endif // __cplusplus

// The version of this library, such as `0.1.0`. It is never freed.
const char *cellrules_version(void);

// Why the last call of this thread failed, in words; empty if it did not. It lasts until the
// thread's next call that returns a status, and is never freed.
const char *cellrules_last_error(void);

// Loads the shipped rules. `rules` gets them, or null.
cellrules_status cellrules_load_shipped(cellrules_rules **rules);

// Loads the rulesets of these names, all of which apply. A name is that of a text given here, or of
// a shipped ruleset. `rules` gets them, or null; `problems`, which may be null, gets why not.
cellrules_status cellrules_load(const char *const *names,
                                size_t name_count,
                                const cellrules_named_text *texts,
                                size_t text_count,
                                cellrules_rules **rules,
                                cellrules_text *problems);

// Frees rules. Null is fine. No call may still be using them.
void cellrules_free_rules(cellrules_rules *rules);

// Checks a proposal and writes its lean record: one line of JSON of ids and numbers, as
// `schemas/lean.schema.json` describes it. `name` is what messages call the proposal; one that ends
// in `.json` is read as JSON, any other as YAML. `verdict` and `record` may be null. If the
// proposal cannot be used, `record` gets the problems.
cellrules_status cellrules_check(const cellrules_rules *rules,
                                 const char *name,
                                 const uint8_t *bytes,
                                 size_t length,
                                 cellrules_verdict *verdict,
                                 cellrules_text *record);

// As `cellrules_check`, with the whole report in words, as `schemas/report.schema.json` describes
// it.
cellrules_status cellrules_report(const cellrules_rules *rules,
                                  const char *name,
                                  const uint8_t *bytes,
                                  size_t length,
                                  cellrules_verdict *verdict,
                                  cellrules_text *report);

// Writes the words of the rules, which records leave out, and the standing notice, as JSON. Whoever
// shows a record shows the notice too.
cellrules_status cellrules_words(const cellrules_rules *rules,
                                 cellrules_text *text);

// Frees a text that a call wrote, and empties it. Null is fine, and so is an empty text.
void cellrules_free_text(cellrules_text *text);

#ifdef __cplusplus
}  // extern "C"
#endif  // __cplusplus

#endif  /* CELLRULES_H */

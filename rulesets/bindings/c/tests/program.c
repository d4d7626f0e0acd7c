// What a program in C sees: the demo is checked, threads share rules, and bad input of every kind
// gets a status, words and, where it is data, the problems with their places.
//
//     program DEMO.yaml

#include "cellrules.h"

#include <pthread.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int failed = 0;
static int passed = 0;

static void expect_at(int line, int holds, const char *what) {
    if (holds) {
        passed++;
        return;
    }
    failed++;
    fprintf(stderr, "program.c:%d: not so: %s (last error: %s)\n", line, what, cellrules_last_error());
}

#define EXPECT(holds) expect_at(__LINE__, (holds), #holds)

static const uint8_t *bytes(const char *text) { return (const uint8_t *)text; }

static int says(const cellrules_text *text, const char *part) {
    return text->bytes != NULL && strstr((const char *)text->bytes, part) != NULL;
}

static char *read_file(const char *path, size_t *length) {
    FILE *file = fopen(path, "rb");
    if (file == NULL || fseek(file, 0, SEEK_END) != 0) {
        perror(path);
        exit(2);
    }
    *length = (size_t)ftell(file);
    rewind(file);
    char *text = malloc(*length + 1);
    if (text == NULL || fread(text, 1, *length, file) != *length) {
        perror(path);
        exit(2);
    }
    text[*length] = '\0';
    fclose(file);
    return text;
}

// A torch with one bare cell that was found at 1.87 V. Below 2.5 V the rules send a cell to recycling,
// which is common practice of the trade; so this is refused whatever else is known.
static const char TORCH[] = "{\"format\": 1, \"title\": \"Marshal's torch\", \"arrangement\": \"1S1P\","
                            " \"cells\": [{\"id\": \"K4\", \"rest\": {\"voltage\": \"1.87 V\", \"after\": \"24 h\"}}]}";

static void the_demo_is_refused(const cellrules_rules *rules, const char *path) {
    size_t length = 0;
    char *demo = read_file(path, &length);
    cellrules_verdict verdict = CELLRULES_VERDICT_NONE;
    cellrules_text text = {NULL, 0};
    EXPECT(cellrules_report(rules, path, bytes(demo), length, &verdict, &text) == CELLRULES_STATUS_OK);
    EXPECT(verdict == CELLRULES_VERDICT_REFUSE);
    EXPECT(says(&text, "\"verdict\": \"refuse\""));
    EXPECT(says(&text, "\"notice\""));
    EXPECT(text.bytes != NULL && text.bytes[text.length] == '\0' && strlen((char *)text.bytes) == text.length);
    size_t full = text.length;
    cellrules_free_text(&text);
    EXPECT(text.bytes == NULL && text.length == 0);
    EXPECT(cellrules_check(rules, path, bytes(demo), length, &verdict, &text) == CELLRULES_STATUS_OK);
    EXPECT(verdict == CELLRULES_VERDICT_REFUSE);
    EXPECT(text.length < full / 2);
    EXPECT(strcmp(cellrules_last_error(), "") == 0);
    cellrules_free_text(&text);
    free(demo);
}

static void what_nobody_wants_may_be_null(const cellrules_rules *rules) {
    cellrules_verdict verdict = CELLRULES_VERDICT_NONE;
    EXPECT(cellrules_check(rules, "a.json", bytes(TORCH), strlen(TORCH), &verdict, NULL) == CELLRULES_STATUS_OK);
    EXPECT(verdict == CELLRULES_VERDICT_REFUSE);
    EXPECT(cellrules_check(rules, "a.json", bytes(TORCH), strlen(TORCH), NULL, NULL) == CELLRULES_STATUS_OK);
    cellrules_free_text(NULL);
    cellrules_free_rules(NULL);
}

static void a_bad_proposal_is_told_with_its_place(const cellrules_rules *rules) {
    static const char BAD[] = "format: 1\ntitle: A torch\narrangment: 1S1P\n";
    cellrules_verdict verdict = CELLRULES_VERDICT_PASS;
    cellrules_text text = {NULL, 0};
    EXPECT(cellrules_check(rules, "bad.yaml", bytes(BAD), strlen(BAD), &verdict, &text) == CELLRULES_STATUS_NOT_USABLE);
    EXPECT(verdict == CELLRULES_VERDICT_NONE);
    EXPECT(says(&text, "\"problems\""));
    EXPECT(says(&text, "arrangment"));
    EXPECT(says(&text, "\"line\": 3"));
    EXPECT(strstr(cellrules_last_error(), "bad.yaml:3:1") != NULL);
    cellrules_free_text(&text);
    EXPECT(cellrules_check(rules, "none.yaml", NULL, 0, &verdict, &text) == CELLRULES_STATUS_NOT_USABLE);
    cellrules_free_text(&text);
    static const uint8_t NO_TEXT[] = {0xff, 0xfe, 0x00, 0x41};
    EXPECT(cellrules_check(rules, "a.json", NO_TEXT, sizeof NO_TEXT, &verdict, &text) == CELLRULES_STATUS_NOT_USABLE);
    EXPECT(says(&text, "\"problems\""));
    cellrules_free_text(&text);
    // A NUL in the middle of a proposal: in words it may not end the message early.
    EXPECT(cellrules_check(rules, "a.json", bytes("{\"a\0b\": 1}"), 10, &verdict, &text) == CELLRULES_STATUS_NOT_USABLE);
    cellrules_free_text(&text);
}

static void a_broken_promise_is_found(const cellrules_rules *rules) {
    cellrules_verdict verdict = CELLRULES_VERDICT_PASS;
    cellrules_text text = {NULL, 0};
    EXPECT(cellrules_check(NULL, "a", bytes(TORCH), 1, &verdict, &text) == CELLRULES_STATUS_BAD_ARGUMENT);
    EXPECT(verdict == CELLRULES_VERDICT_NONE && text.bytes == NULL);
    EXPECT(strcmp(cellrules_last_error(), "") != 0);
    EXPECT(cellrules_check(rules, NULL, bytes(TORCH), 1, &verdict, &text) == CELLRULES_STATUS_BAD_ARGUMENT);
    EXPECT(cellrules_check(rules, "\xff.json", bytes(TORCH), 1, &verdict, &text) == CELLRULES_STATUS_BAD_ARGUMENT);
    EXPECT(cellrules_check(rules, "a", NULL, 1, &verdict, &text) == CELLRULES_STATUS_BAD_ARGUMENT);
    EXPECT(cellrules_check(rules, "a", bytes(TORCH), SIZE_MAX, &verdict, &text) == CELLRULES_STATUS_BAD_ARGUMENT);
    EXPECT(cellrules_report(NULL, "a", bytes(TORCH), 1, NULL, NULL) == CELLRULES_STATUS_BAD_ARGUMENT);
    EXPECT(cellrules_load_shipped(NULL) == CELLRULES_STATUS_BAD_ARGUMENT);
    EXPECT(cellrules_words(rules, NULL) == CELLRULES_STATUS_BAD_ARGUMENT);
    EXPECT(cellrules_words(NULL, &text) == CELLRULES_STATUS_BAD_ARGUMENT);
    cellrules_rules *none = NULL;
    EXPECT(cellrules_load(NULL, 1, NULL, 0, &none, NULL) == CELLRULES_STATUS_BAD_ARGUMENT && none == NULL);
    const char *const null_name[] = {NULL};
    EXPECT(cellrules_load(null_name, 1, NULL, 0, &none, NULL) == CELLRULES_STATUS_BAD_ARGUMENT && none == NULL);
    const char *const name[] = {"club.yaml"};
    EXPECT(cellrules_load(name, 1, NULL, 3, &none, NULL) == CELLRULES_STATUS_BAD_ARGUMENT && none == NULL);
    const cellrules_named_text no_bytes = {"club.yaml", NULL, 7};
    EXPECT(cellrules_load(name, 1, &no_bytes, 1, &none, NULL) == CELLRULES_STATUS_BAD_ARGUMENT && none == NULL);
}

static void rules_come_from_bytes(void) {
    static const char CLUB[] = "format: 1\nruleset: night-relay-club\nversion: 1.0.0\n"
                               "title: A stricter floor for the lamps of the night relay\nextends: [rescued-cells]\n";
    const char *const names[] = {"club.yaml"};
    const cellrules_named_text good = {"club.yaml", bytes(CLUB), strlen(CLUB)};
    cellrules_rules *rules = NULL;
    cellrules_text text = {NULL, 0};
    EXPECT(cellrules_load(names, 1, &good, 1, &rules, &text) == CELLRULES_STATUS_OK);
    EXPECT(rules != NULL && text.bytes == NULL);
    cellrules_verdict verdict = CELLRULES_VERDICT_NONE;
    EXPECT(cellrules_check(rules, "a.json", bytes(TORCH), strlen(TORCH), &verdict, &text) == CELLRULES_STATUS_OK);
    EXPECT(verdict == CELLRULES_VERDICT_REFUSE);
    cellrules_free_text(&text);
    cellrules_free_rules(rules);

    const cellrules_named_text bad = {"club.yaml", bytes("format: 1\nruleset: Club\n"), 24};
    EXPECT(cellrules_load(names, 1, &bad, 1, &rules, &text) == CELLRULES_STATUS_NOT_USABLE);
    EXPECT(rules == NULL && says(&text, "club.yaml"));
    cellrules_free_text(&text);
    EXPECT(cellrules_load(names, 1, NULL, 0, &rules, &text) == CELLRULES_STATUS_NOT_USABLE);
    EXPECT(rules == NULL && says(&text, "club.yaml"));
    cellrules_free_text(&text);
}

static void the_words_hold_the_notice(const cellrules_rules *rules) {
    cellrules_text text = {NULL, 0};
    EXPECT(cellrules_words(rules, &text) == CELLRULES_STATUS_OK);
    EXPECT(says(&text, "\"notice\""));
    cellrules_free_text(&text);
}

struct shared {
    const cellrules_rules *rules;
    int refused;
    int own_error;
};

static void *check_many(void *given) {
    struct shared *shared = given;
    for (int turn = 0; turn < 8; turn++) {
        cellrules_verdict verdict = CELLRULES_VERDICT_NONE;
        cellrules_text text = {NULL, 0};
        cellrules_check(shared->rules, "a.json", bytes(TORCH), strlen(TORCH), &verdict, &text);
        shared->refused += verdict == CELLRULES_VERDICT_REFUSE;
        cellrules_free_text(&text);
    }
    cellrules_check(NULL, "a.json", NULL, 0, NULL, NULL);
    shared->own_error = strcmp(cellrules_last_error(), "") != 0;
    return NULL;
}

static void threads_share_rules(const cellrules_rules *rules) {
    struct shared shared[4];
    pthread_t threads[4];
    cellrules_free_text(NULL);
    for (int i = 0; i < 4; i++) {
        shared[i] = (struct shared){rules, 0, 0};
        EXPECT(pthread_create(&threads[i], NULL, check_many, &shared[i]) == 0);
    }
    for (int i = 0; i < 4; i++) {
        pthread_join(threads[i], NULL);
        EXPECT(shared[i].refused == 8);
        EXPECT(shared[i].own_error);
    }
    EXPECT(strcmp(cellrules_last_error(), "") == 0);
}

int main(int count, char **arguments) {
    if (count != 2) {
        fprintf(stderr, "usage: program DEMO.yaml\n");
        return 2;
    }
    cellrules_rules *rules = NULL;
    EXPECT(cellrules_load_shipped(&rules) == CELLRULES_STATUS_OK && rules != NULL);
    EXPECT(strlen(cellrules_version()) >= 5);
    the_demo_is_refused(rules, arguments[1]);
    what_nobody_wants_may_be_null(rules);
    a_bad_proposal_is_told_with_its_place(rules);
    a_broken_promise_is_found(rules);
    rules_come_from_bytes();
    the_words_hold_the_notice(rules);
    threads_share_rules(rules);
    cellrules_free_rules(rules);
    printf("C: %d passed, %d failed\n", passed, failed);
    return failed == 0 ? 0 : 1;
}

// The lines of the README's part on embedding, in a program around them.

#include "cellrules.h"

#include <stdio.h>
#include <stdlib.h>

int main(int count, char **arguments) {
    FILE *file = count == 2 ? fopen(arguments[1], "rb") : NULL;
    if (file == NULL) {
        fprintf(stderr, "usage: readme DEMO.yaml\n");
        return 2;
    }
    static uint8_t bytes[1 << 20];
    const size_t length = fread(bytes, 1, sizeof bytes, file);
    fclose(file);

#include "readme-lines.h"

    // The demo is refused, as the README shows.
    const int is_refused = verdict == CELLRULES_VERDICT_REFUSE && report.length > 0;
    cellrules_free_text(&report);
    cellrules_free_rules(rules);
    printf("README: %d passed, %d failed\n", is_refused, !is_refused);
    return is_refused ? 0 : 1;
}

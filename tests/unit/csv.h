/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A file of tests/data read line by line: comment lines and the line of names are passed
 * over; a field in double quotes may hold commas. The tests run from the top folder.
 */
#ifndef STRANDWISE_TEST_CSV_H
#define STRANDWISE_TEST_CSV_H

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

enum { CSV_LINE = 1024, CSV_FIELDS = 24 };

struct csv {
    FILE *file;
    bool named; /* the line of names is past */
    char line[CSV_LINE];
    char *field[CSV_FIELDS];
    int nfields;
};

static inline void csv_split(struct csv *csv)
{
    char *to = csv->line;
    bool quoted = false;

    csv->nfields = 1;
    csv->field[0] = to;
    for (const char *from = csv->line; *from && *from != '\n'; from++) {
        if (*from == '"') {
            quoted = !quoted;
        } else if (*from == ',' && !quoted && csv->nfields < CSV_FIELDS) {
            *to++ = '\0';
            csv->field[csv->nfields++] = to;
        } else {
            *to++ = *from;
        }
    }
    *to = '\0';
}

static inline bool csv_open(struct csv *csv, const char *path)
{
    memset(csv, 0, sizeof *csv);
    csv->file = fopen(path, "r");
    return csv->file != NULL;
}

/* false at the end, where the file is closed. */
static inline bool csv_next(struct csv *csv)
{
    while (fgets(csv->line, sizeof csv->line, csv->file)) {
        if (csv->line[0] == '#')
            continue;
        if (!csv->named) {
            csv->named = true;
            continue;
        }
        csv_split(csv);
        return true;
    }
    fclose(csv->file);
    csv->file = NULL;
    return false;
}

#endif

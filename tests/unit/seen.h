/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Messages a test provoked, looked up by code and words.
 */
#ifndef STRANDWISE_TEST_SEEN_H
#define STRANDWISE_TEST_SEEN_H

#include <stdbool.h>
#include <string.h>

#include "base/diag.h"
#include "base/work.h"

/* How many messages have the code. */
static inline int seen_count(struct work *work, enum diag_code code)
{
    int count, found = 0;
    const struct diag *diag = diagnostics_sorted(work->diagnostics, &count);

    for (int i = 0; i < count; i++)
        found += diag[i].code == code;
    return found;
}

static inline int seen_all(struct work *work)
{
    int count;

    diagnostics_sorted(work->diagnostics, &count);
    return count;
}

/* The first message of the code with the words in what or todo; NULL: none. */
static inline const struct diag *seen_find(struct work *work, enum diag_code code,
                                           const char *words)
{
    int count;
    const struct diag *diag = diagnostics_sorted(work->diagnostics, &count);

    for (int i = 0; i < count; i++)
        if (diag[i].code == code &&
            (strstr(diag[i].what, words) || (diag[i].todo && strstr(diag[i].todo, words))))
            return &diag[i];
    return NULL;
}

/* The same at a place of a file. */
static inline bool seen_at(struct work *work, enum diag_code code, const char *words, int line,
                           int column)
{
    const struct diag *diag = seen_find(work, code, words);

    return diag && diag->at.line == line && diag->at.column == column;
}

#endif

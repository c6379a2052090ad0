/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Messages to the knitter: collected, put in file order, printed once per stage.
 *
 * A message says what is wrong, in her words, and what to change. It carries a code
 * (diag_codes.h) that never changes meaning and has an entry in docs/diagnostics.md.
 */
#ifndef STRANDWISE_DIAG_H
#define STRANDWISE_DIAG_H

#include <stdbool.h>

#include "source.h"

struct arena;
struct text;

enum diag_severity { DIAG_NOTE, DIAG_CAUTION, DIAG_ERROR };

enum diag_code {
#define DIAG(name, text, severity, heading) DIAG_##name,
#include "diag_codes.h"
#undef DIAG
    DIAG_CODE_COUNT
};

struct diag {
    enum diag_code code;
    struct place at;
    const char *what; /* what was seen: a sentence, with its full stop */
    const char *todo; /* what to change or what was done instead: a sentence; may be NULL */
};

struct diagnostics;

struct diagnostics *diagnostics_create(struct arena *arena);

/* Both texts must live as long as the arena (arena_printf). The first 1000 of each severity
 * are kept; more are counted only. */
void diag_add(struct diagnostics *diagnostics, enum diag_code code, struct place at,
              const char *what, const char *todo);

const char *diag_code_text(enum diag_code code);     /* "unknown-key" */
enum diag_severity diag_code_severity(enum diag_code code);

int diagnostics_count(const struct diagnostics *diagnostics, enum diag_severity severity);
bool diagnostics_fatal(const struct diagnostics *diagnostics); /* any DIAG_ERROR */

/* The messages in file order (files in the order first mentioned, then line, column, order
 * of arrival; exact repeats dropped). *count of them; valid until the next diag_add. */
const struct diag *diagnostics_sorted(struct diagnostics *diagnostics, int *count);

/* Append in words: the first 20 errors, all cautions and notes up to 20 more, then how many there were.
 * Messages of an earlier diagnostics_say() are not repeated; nothing new says nothing.
 * colour: ANSI colours for a terminal. */
void diagnostics_say(struct diagnostics *diagnostics, bool colour, struct text *out);

#endif

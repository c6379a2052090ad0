/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The commands, and what the command line gave them.
 */
#ifndef STRANDWISE_COMMAND_H
#define STRANDWISE_COMMAND_H

#include <stdbool.h>
#include <stddef.h>

#include "base/number.h"
#include "base/text.h"
#include "strandwise.h"

enum { ARGUMENTS_MAX = 8, TABLES_MAX = 16 };

/* The fields named in options.h, and what else a command is to know. */
struct arguments {
    struct strandwise *core;
    const char *word[ARGUMENTS_MAX]; /* what stands without a dash */
    int nwords;
    const char *around, *as, *band, *catch_at, *cell, *columns, *draw, *gauge, *leave, *measure;
    const char *out_path, *over, *rows, *show, *side, *stitches, *try_name;
    const char *check, *flat, *replace; /* not NULL: given */
    const char *table[TABLES_MAX];
    int ntables;
    bool colour_out, colour_messages;
    bool true_colour;   /* standard output shows any shade, not 256 */
    int window_columns; /* of standard output; 0: no terminal, or it does not say */
};

struct command {
    const char *name;
    const char *words;   /* as its usage has them */
    int fewest, most;    /* of them */
    const char *summary; /* one line */
    const char *help;    /* more lines for its --help; may be "" */
    enum run_status (*run)(const struct arguments *arguments);
};

#define COMMAND(name, words, fewest, most, summary, help)                                                          \
    enum run_status command_##name(const struct arguments *arguments);
#include "options.h"

/* Does the plan asked for hold its own notes and cautions? */
bool command_plan_says_notes(const struct arguments *arguments);

/* To -o FILE or standard output, whole or not at all. */
enum run_status command_put(const struct arguments *arguments, const char *bytes, size_t nbytes);
/* What was wished for, made and put there; of RUN_USAGE, said why. */
enum run_status command_make(const struct arguments *arguments, const struct strandwise_wish *wish);
/* The status as it is; of RUN_USAGE, said why. */
enum run_status command_told(const struct arguments *arguments, enum run_status status);

/* -o names a file, not "-" or nothing. */
bool command_to_file(const struct arguments *arguments);
/* Said, where it ("PDF") would go to the screen. */
bool command_refuses_screen(const struct arguments *arguments, const char *what);
/* Does the file's name promise another form than those (a list in words: "txt, json or pdf")? Says
 * so. --as decides whatever the name. */
bool command_refuses_name(const struct arguments *arguments, const char *what, const char *endings);
/* Does the name end so, in letters of either size? */
bool command_path_ends(const char *path, const char *ending);

/* What is written, by --as or else as the file's name ends, of those allowed ("text json pdf"); where neither
 * says: otherwise. FORM_NONE: --as says another. */
enum form { FORM_NONE, FORM_TEXT, FORM_JSON, FORM_SVG, FORM_PDF, FORM_PNG };
enum form command_form(const char *as, const char *path, const char *allowed, enum form otherwise);
/* Sheets wished for, as SVG, PDF or PNG; and put where -o says. */
enum run_status command_sheets(const struct arguments *arguments, struct strandwise_wish wish, enum form form,
                               struct text *out);
enum run_status command_put_sheets(const struct arguments *arguments, struct strandwise_wish wish, enum form form);

bool command_read_quantity(const char *text, struct quantity *quantity);
/* A whole number from 1 to most, of that unit or of none. */
bool command_read_count(const char *text, enum unit unit, int most, int *count);
/* A length with its unit, over nothing and up to 10,000 inches. */
bool command_read_length(const char *text, struct rational *inches);

/* A fault of the command line: one sentence on standard error. Returned: RUN_USAGE. */
enum run_status command_usage(const char *format, ...) __attribute__((format(printf, 1, 2)));

#endif

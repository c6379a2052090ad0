/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The commands, and what the command line gave them.
 */
#ifndef STRANDWISE_COMMAND_H
#define STRANDWISE_COMMAND_H

#include <stdbool.h>

#include "base/text.h"
#include "run.h"

enum { ARGUMENTS_MAX = 8, TABLES_MAX = 16 };

struct arguments {
    const char *word[ARGUMENTS_MAX]; /* what stands without a dash */
    int nwords;
    const char *as;         /* --as */
    const char *out_path;   /* -o */
    const char *stitches;   /* --stitches */
    const char *over;       /* --over */
    const char *measure;    /* --measure */
    const char *leave;      /* --leave-up-to */
    const char *catch_at;   /* --catch-at */
    const char *band;       /* --band */
    const char *side;       /* --side */
    const char *cell;       /* --cell */
    const char *show;       /* --show */
    const char *gauge;      /* --gauge */
    const char *try_name;   /* --try */
    const char *columns;    /* --columns */
    const char *rows;       /* --rows */
    const char *around;     /* --around */
    const char *draw;       /* --draw */
    const char *table[TABLES_MAX]; /* --table, one or more */
    int ntables;
    bool flat, check, replace;
    bool colour_out, colour_messages;
    bool true_colour;   /* standard output shows any shade, not 256 */
    int window_columns; /* of standard output; 0: no terminal, or it does not say */
};

struct command {
    const char *name;
    const char *usage;   /* behind the name */
    const char *summary; /* one line */
    const char *options; /* the options it takes, their words set off by blanks */
    int words_min, words_max;
    enum run_status (*run)(struct work *work, const struct arguments *arguments);
    const char *help;    /* more lines for its --help; may be "" */
};

extern const struct command commands[]; /* ends with a NULL name */

enum run_status command_plan(struct work *work, const struct arguments *arguments);
enum run_status command_directions(struct work *work, const struct arguments *arguments);
enum run_status command_draw(struct work *work, const struct arguments *arguments);
enum run_status command_lesson(struct work *work, const struct arguments *arguments);
enum run_status command_ladder(struct work *work, const struct arguments *arguments);
enum run_status command_check(struct work *work, const struct arguments *arguments);
enum run_status command_start(struct work *work, const struct arguments *arguments);
enum run_status command_spread(struct work *work, const struct arguments *arguments);
enum run_status command_fit(struct work *work, const struct arguments *arguments);
enum run_status command_float(struct work *work, const struct arguments *arguments);
enum run_status command_resize(struct work *work, const struct arguments *arguments);
enum run_status command_tables(struct work *work, const struct arguments *arguments);

/* Text to -o FILE or standard output, whole or not at all. */
enum run_status command_put(struct work *work, const struct arguments *arguments,
                            const struct text *text);
/* Said, where a PDF would go to the screen. */
bool command_refuses_pdf(const struct arguments *arguments);
/* Does the file's name promise another form than those (a list in words: "txt, json or pdf")? Says
 * so. --as decides whatever the name. */
bool command_refuses_name(const struct arguments *arguments, const char *what, const char *endings);
/* Does the name of -o FILE end so, in letters of either size? */
bool command_name_ends(const struct arguments *arguments, const char *ending);
bool command_path_ends(const char *path, const char *ending);
/* A sheet as a PNG, as finely as its size allows. Status: 0, or -1 reported. (command_draw.c) */
struct sheet;
int command_write_picture(const struct sheet *sheet, struct text *out);
/* No band of that name: said, with the nearest. Returned: RUN_USAGE. */
enum run_status command_unknown_band(struct work *work, const struct plan *plan, const char *name);

/* A fault of the command line: one sentence on standard error. Returned: RUN_USAGE. */
enum run_status command_usage(const char *format, ...) __attribute__((format(printf, 1, 2)));

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Strandwise as a library: files in memory go in; a plan, or messages with their places, comes out, and any
 * output of it is bytes.
 *
 *     strandwise_start();
 *     core = strandwise_begin(files, 2, 512 << 20);
 *     if (!core)
 *         return no_memory();
 *     status = strandwise_plan(core, "cuff.ini");
 *     if (status == RUN_DONE)
 *         status = strandwise_make(core, &(struct strandwise_wish){.output = OUTPUT_PLAN}, &bytes);
 *     if (status != RUN_MEMORY)
 *         strandwise_messages(core, &messages);
 *     strandwise_end(core);
 *
 * Nothing behind it opens a file, asks the clock or the environment, or keeps anything between two plans:
 * two cores may be at work in two threads. Called by the command line (app/), the tests and other programs.
 */
#ifndef STRANDWISE_H
#define STRANDWISE_H

#include <stdbool.h>
#include <stddef.h>

struct outside;
struct sheets;
struct strandwise;

enum run_status {
    RUN_DONE = 0,
    RUN_MEND = 1,  /* the project needs mending: see the messages */
    RUN_USAGE = 2, /* what was asked for is not there: see strandwise_why() */
    RUN_FILE = 3,  /* a file is missing, or cannot be read or written: see the messages */
    RUN_MEMORY = 4 /* there is no more memory; only strandwise_end() may follow. Without setjmp, in WebAssembly, it
                    * traps in place of that: throw the instance away */
};

/* A file in memory, which must stay as it is until strandwise_end(). */
struct strandwise_file {
    const char *name; /* a chart's as from the project's folder: "socks/cuff.chart" beside "socks/cuff.ini" */
    const void *bytes;
    size_t nbytes;
    long width, height; /* over 0: a picture, unpacked: rows of red, green, blue and alpha, the topmost first */
};

enum strandwise_severity { STRANDWISE_NOTE, STRANDWISE_CAUTION, STRANDWISE_FAULT };

struct strandwise_message {
    enum strandwise_severity severity;
    const char *code;        /* "unknown-key": docs/diagnostics.md */
    const char *what, *todo; /* sentences; todo may be NULL */
    const char *file;        /* NULL: of no file */
    int line, column, width; /* from 1, in characters; 0: the file as a whole */
};

enum strandwise_output {
    OUTPUT_PLAN,          /* words */
    OUTPUT_DIRECTIONS,    /* words: each round or row */
    OUTPUT_JSON,          /* docs/plan.schema.json */
    OUTPUT_CHECK,         /* words: its charts proof-read */
    OUTPUT_LADDER,        /* words; after strandwise_ladder() */
    OUTPUT_CHART,         /* the charts in characters */
    OUTPUT_DRAWING,       /* sheets: the charts drawn */
    OUTPUT_PAGES,         /* sheets: the plan to print */
    OUTPUT_LESSON,        /* sheets: a lesson to print */
    OUTPUT_REDRAW,        /* words; this and what follows after strandwise_redraw() */
    OUTPUT_REDRAW_JSON,   /* docs/redraw.schema.json */
    OUTPUT_REDRAW_CHART,  /* the new chart as a file, in marks */
    OUTPUT_REDRAW_DRAWING /* sheets: old beside new */
};

enum strandwise_show { SHOW_CHART, SHOW_CHANGES, SHOW_DENTS };

/* What is wanted; all zero: as it comes. */
struct strandwise_wish {
    enum strandwise_output output;
    const char *band;          /* NULL: all of them */
    enum strandwise_show show; /* of charts */
    bool wrong_side;
    double cell_mm;            /* width of a stitch drawn, at most 50; 0: as large as a page allows */
    bool true_size;            /* as wide as it is knitted */
    int sheet;                 /* of sheets: which, from 1; 0: all, one below the other */
    int width;                 /* of words, in columns; 0: 80 */
    bool colour, true_colour;  /* words with a terminal's colours, in 256 or in any shade */
    bool for_paper;            /* of a redraw's drawing: too large for one page, old and new are a sheet each */
};

struct strandwise_bytes {
    const char *bytes; /* nbytes, then a NUL that is not counted; they live until strandwise_end() */
    size_t nbytes;
};

/* Once in a program, before the first plan and before any thread: it sets GSL's error handler off. */
void strandwise_start(void);

/* Files in memory, found by exactly their names. All that is made lives, and takes memory, until strandwise_end().
 * NULL: no memory at all. memory_bytes: the most that is taken. */
struct strandwise *strandwise_begin(const struct strandwise_file *files, int nfiles, size_t memory_bytes);
/* Files from elsewhere (base/source.h). */
struct strandwise *strandwise_begin_with(const struct outside *outside, size_t memory_bytes);
void strandwise_end(struct strandwise *core);

/* A table of one's own in place of the built-in one of that name: "mine/allowances.csv". */
enum run_status strandwise_table(struct strandwise *core, const char *name);

/* Read, check and plan the project of that name; with the ladder of gauges, where it need not have a swatch. One after
 * another may be planned: outputs and messages are of the last. */
enum run_status strandwise_plan(struct strandwise *core, const char *project);
enum run_status strandwise_ladder(struct strandwise *core, const char *project);

/* A band's chart drawn again over so many stitches and rows (0: as many as it had). */
enum run_status strandwise_redraw(struct strandwise *core, const char *band, int ncols, int nrows);

/* An output of what was planned. Sheets come as SVG. */
enum run_status strandwise_make(struct strandwise *core, const struct strandwise_wish *wish,
                                struct strandwise_bytes *made);
/* The sheets themselves, for who writes them otherwise (render/sheet/sheet.h). */
enum run_status strandwise_sheets(struct strandwise *core, const struct strandwise_wish *wish,
                                  struct sheets *sheets);

/* Those so far, in the order of the files; they live until strandwise_end(). Returned: how many. */
int strandwise_messages(struct strandwise *core, const struct strandwise_message **messages);
/* A sentence about the last RUN_USAGE. */
const char *strandwise_why(const struct strandwise *core);

#endif

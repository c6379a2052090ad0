/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What every function that may fail, allocate or speak is handed first.
 */
#ifndef STRANDWISE_WORK_H
#define STRANDWISE_WORK_H

struct arena;
struct diagnostics;
struct tables;

/* A file that was read: nothing is ever written over it. */
struct file_read {
    const char *path;
    const struct file_read *before;
};

struct work {
    struct arena *arena;             /* freed once, by who made it */
    struct diagnostics *diagnostics; /* lives in the arena */
    const struct tables *tables;     /* loaded before anything is read */
    const struct file_read *read;    /* the last of those read; NULL: none yet */
    const struct outside *outside;   /* where files come from (source.h); NULL: there are none */
};

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What every function that may fail, allocate or speak is handed first.
 */
#ifndef STRANDWISE_WORK_H
#define STRANDWISE_WORK_H

struct arena;
struct diagnostics;
struct tables;

struct work {
    struct arena *arena;             /* freed once, by app/run.c */
    struct diagnostics *diagnostics; /* lives in the arena */
    const struct tables *tables;     /* loaded by app/run.c before anything is read */
};

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is caught: one repeat as a closed ring, or the whole rows of flat work, whose catches
 * inside the repeats stand already. Read by catches_rows.c a row at a time.
 */
#ifndef STRANDWISE_CATCHES_CLOTH_H
#define STRANDWISE_CATCHES_CLOTH_H

#include <stdbool.h>
#include <stdint.h>

#include "catches.h"

struct arena;

/* A ring is one repeat without sides; sides may be NULL or ncols 0. */
struct catch_cloth {
    const struct grid *repeat, *left, *right;
    int repeats;
    enum float_ends ends;
    const struct catch_map *inner; /* of the repeat, its catches standing in every copy: only the
                                      other floats are to be placed. NULL: every float is. */
};

int cloth_ncols(const struct catch_cloth *cloth);
int cloth_nyarns(const struct catch_cloth *cloth); /* different yarns in all of it */

struct cloth_row {
    uint8_t *cells;   /* [ncols] */
    uint8_t *yarn_of; /* [nstitches] */
    int *column;      /* of each stitch, twice over: a float over the join is read straight on */
    int nstitches;
};
struct cloth_row cloth_row_room(struct arena *arena, const struct catch_cloth *cloth);
void cloth_row_read(const struct catch_cloth *cloth, int r, struct cloth_row *row);

/* Whether a float lies wholly inside the repeats of flat work, so that it is caught already. */
bool cloth_is_copied(const struct catch_cloth *cloth, const struct cloth_row *row,
                     const struct float_run *run);

/* The columns of `inner`'s catches in every copy: of row r at column[start[r]] up to
 * column[start[r + 1]]. None without `inner`. */
struct cloth_copies {
    int64_t *start;
    int32_t *column;
    int64_t count_of[GRID_YARNS_MAX]; /* by strand */
};
struct cloth_copies cloth_copies(struct arena *arena, const struct catch_cloth *cloth);

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "duplicate.h"

#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"

struct spread {
    const struct grid *grid;
    uint8_t *seen;      /* 1: found, waiting or in a spot */
    size_t *waiting;    /* cells of the spot still to look round */
    size_t nwaiting;
    int yarn, reach;
};

static void look_round(struct spread *spread, size_t cell)
{
    const struct grid *grid = spread->grid;
    int row = (int)(cell / (size_t)grid->ncols), column = (int)(cell % (size_t)grid->ncols);

    for (int r = row - spread->reach; r <= row + spread->reach; r++)
        for (int c = column - spread->reach; c <= column + spread->reach; c++) {
            size_t other = (size_t)r * (size_t)grid->ncols + (size_t)c;

            if (r < 0 || r >= grid->nrows || c < 0 || c >= grid->ncols || spread->seen[other] ||
                grid->cell[other] != spread->yarn)
                continue;
            spread->seen[other] = 1;
            spread->waiting[spread->nwaiting++] = other;
        }
}

static int compare_cells(const void *a, const void *b)
{
    size_t x = *(const size_t *)a, y = *(const size_t *)b;

    return (x > y) - (x < y);
}

static int64_t beyond_one(int64_t distance)
{
    distance = distance < 0 ? -distance : distance;
    return distance > 1 ? distance - 1 : 0;
}

/* The spot that holds `first`: waiting[0..nwaiting) are its cells when the look-round is done. */
static void tally_spot(struct spread *spread, size_t first, struct duplicate_tally *tally)
{
    int ncols = spread->grid->ncols;

    spread->nwaiting = 0;
    spread->seen[first] = 1;
    spread->waiting[spread->nwaiting++] = first;
    for (size_t i = 0; i < spread->nwaiting; i++)
        look_round(spread, spread->waiting[i]);
    qsort(spread->waiting, spread->nwaiting, sizeof *spread->waiting, compare_cells);
    for (size_t i = 1; i < spread->nwaiting; i++) {
        int64_t from = (int64_t)spread->waiting[i - 1], to = (int64_t)spread->waiting[i];

        tally->across_sts += beyond_one(to % ncols - from % ncols);
        tally->up_rows += beyond_one(to / ncols - from / ncols);
    }
    tally->stitches += (int64_t)spread->nwaiting;
    tally->spots++;
}

void duplicate_tally_grid(struct work *work, const struct grid *grid, int yarn, int reach,
                          struct duplicate_tally *tally)
{
    size_t n = (size_t)grid->nrows * (size_t)grid->ncols;
    size_t count = 0;
    struct spread spread = {.grid = grid, .yarn = yarn, .reach = reach};

    memset(tally, 0, sizeof *tally);
    for (size_t i = 0; i < n; i++)
        count += grid->cell[i] == yarn;
    if (count == 0)
        return;
    spread.seen = arena_alloc(work->arena, n, 1);
    spread.waiting = arena_alloc(work->arena, count, sizeof *spread.waiting);
    for (size_t i = 0; i < n; i++)
        if (grid->cell[i] == yarn && !spread.seen[i])
            tally_spot(&spread, i, tally);
}

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

/* --- strand it, or sew it on ---------------------------------------------------------------- */

static void count_colours(const uint8_t *yarn_of, int nstitches, int64_t count[GRID_YARNS_MAX])
{
    memset(count, 0, GRID_YARNS_MAX * sizeof *count);
    for (int i = 0; i < nstitches; i++)
        count[yarn_of[i]]++;
}

bool duplicate_is_choice(const uint8_t *yarn_of, int nstitches, int yarn, double sparse_ratio)
{
    int64_t count[GRID_YARNS_MAX];
    int ahead = 0; /* colours of the row that come before this one */

    count_colours(yarn_of, nstitches, count);
    if (count[yarn] == 0)
        return false;
    for (int other = 0; other < GRID_YARNS_MAX; other++)
        ahead += count[other] > count[yarn] ||
                 (other < yarn && count[other] > 0 && count[other] == count[yarn]);
    return ahead >= 2 || (ahead == 1 && (double)count[yarn] <= sparse_ratio * nstitches);
}

int duplicate_under(const uint8_t *yarn_of, int nstitches, int yarn)
{
    int64_t count[GRID_YARNS_MAX];
    int under = -1;

    count_colours(yarn_of, nstitches, count);
    for (int other = 0; other < GRID_YARNS_MAX; other++)
        if (other != yarn && count[other] > 0 && (under < 0 || count[other] > count[under]))
            under = other;
    return under;
}

double duplicate_knitting_hours(int64_t stitches, int64_t catches, int colours,
                                const struct duplicate_pace *pace)
{
    double ratio = colours <= 1   ? pace->one_colour_ratio
                   : colours == 2 ? 1.0
                                  : pace->three_colours_ratio;

    return ((double)stitches * ratio + (double)catches * pace->catch_sts) / pace->sts_per_hour;
}

double duplicate_sewing_hours(int64_t stitches, int64_t spots, const struct duplicate_pace *pace)
{
    return ((double)stitches * pace->sewn_sts + (double)spots * pace->spot_sts) /
           pace->sts_per_hour;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "crowding.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"

static const double NEARLY = 1e-9; /* what is exactly on the circle is within it */

int worked_drawn_ncols(const struct plan_band *band)
{
    return band->right.ncols + band->drawn.ncols + band->left.ncols;
}

int worked_drawn_column(const struct worked_catches *worked, int column)
{
    int right = worked->band->right.ncols, repeat = worked->band->drawn.ncols;
    int between = worked->band->repeats * repeat;

    if (worked->ring)
        return right + column;
    if (column < right)
        return column;
    if (column >= right + between)
        return column - between + repeat;
    return right + (column - right) % repeat;
}

struct worked_catches worked_catches_read(struct arena *arena, const struct plan_band *band)
{
    const struct catch_map *inner = band->catches, *outer = band->outer;
    int repeat = band->drawn.ncols, right = outer ? band->right.ncols : 0;
    int64_t *start = arena_alloc(arena, (size_t)band->rows + 1, sizeof *start);
    int64_t room = inner->count * (outer ? band->repeats : 1) + (outer ? outer->count : 0);
    int32_t *column = arena_alloc(arena, (size_t)room + 1, sizeof *column);
    int64_t n = 0, i = 0, k = 0;

    for (int row = 0; row < band->rows; row++) {
        for (; i < inner->count && inner->mark[i].row == row; i++) {
            const struct catch_mark *mark = &inner->mark[i];
            struct catch_copies copies = {0, 1};

            if (outer)
                copies = catches_copies(&band->knitted, mark, band->repeats);
            for (int copy = copies.first; copy < copies.first + copies.count; copy++)
                column[n++] = right + copy * repeat + mark->column;
        }
        for (; outer && k < outer->count && outer->mark[k].row == row; k++)
            column[n++] = outer->mark[k].column;
        start[row + 1] = n;
    }
    return (struct worked_catches){
        .band = band,
        .ring = !outer,
        .ncols = outer ? right + band->repeats * repeat + band->left.ncols : repeat,
        .times = outer ? 1 : band->repeats,
        .start = start,
        .column = column,
    };
}

/* --- the circle --------------------------------------------------------------------------- */

/* How far it reaches to each side, `rows` above or below its middle; -1: not there at all. */
static int64_t half_width(double per_in, double rows_per_in, double within_in, int64_t rows)
{
    double up = (double)rows / rows_per_in;
    double square = within_in * within_in * (1 + NEARLY) - up * up;

    return square < 0 ? -1 : (int64_t)floor(per_in * sqrt(square) + NEARLY);
}

int64_t crowding_circle_sts(double per_in, double rows_per_in, double within_in)
{
    int64_t stitches = 2 * half_width(per_in, rows_per_in, within_in, 0) + 1;

    for (int64_t rows = 1; half_width(per_in, rows_per_in, within_in, rows) >= 0; rows++)
        stitches += 2 * (2 * half_width(per_in, rows_per_in, within_in, rows) + 1);
    return stitches;
}

/* What one row of stitches is being counted in. */
struct crowd {
    const struct worked_catches *worked;
    int64_t *half;   /* [reach + 1]: half width so many rows off */
    int64_t reach;   /* rows up and down */
    int64_t *change; /* [ncols + 1]: from each column on, so many more than before */
    int64_t *here;   /* [ncols] */
};

static struct crowd crowd_begin(struct arena *arena, const struct worked_catches *worked,
                                double per_in, double rows_per_in, double within_in)
{
    struct crowd crowd = {.worked = worked};
    int64_t high = (int64_t)worked->band->rows * worked->band->upwards;

    while (crowd.reach + 1 < high &&
           half_width(per_in, rows_per_in, within_in, crowd.reach + 1) >= 0)
        crowd.reach++;
    crowd.half = arena_alloc(arena, (size_t)crowd.reach + 1, sizeof *crowd.half);
    for (int64_t rows = 0; rows <= crowd.reach; rows++)
        crowd.half[rows] = half_width(per_in, rows_per_in, within_in, rows);
    crowd.change = arena_alloc(arena, (size_t)worked->ncols + 1, sizeof *crowd.change);
    crowd.here = arena_alloc(arena, (size_t)worked->ncols, sizeof *crowd.here);
    return crowd;
}

/* One catch is near to all columns from `first` on, `count` of them. */
static void spread_straight(struct crowd *crowd, int64_t first, int64_t count)
{
    int64_t end = first + count, ncols = crowd->worked->ncols;

    first = first < 0 ? 0 : first;
    end = end > ncols ? ncols : end;
    if (first < end) {
        crowd->change[first]++;
        crowd->change[end]--;
    }
}

/* The same where columns go round: never more than once round the whole piece. */
static void spread_round(struct crowd *crowd, int64_t first, int64_t count)
{
    int64_t ncols = crowd->worked->ncols, all = ncols * crowd->worked->times;

    count = count > all ? all : count;
    crowd->change[0] += count / ncols;
    count %= ncols;
    first = (first % ncols + ncols) % ncols;
    spread_straight(crowd, first, count);
    if (first + count > ncols)
        spread_straight(crowd, 0, first + count - ncols);
}

static void spread_row(struct crowd *crowd, int row, int64_t half)
{
    const struct worked_catches *worked = crowd->worked;

    for (int64_t i = worked->start[row]; i < worked->start[row + 1]; i++) {
        if (worked->ring)
            spread_round(crowd, worked->column[i] - half, 2 * half + 1);
        else
            spread_straight(crowd, worked->column[i] - half, 2 * half + 1);
    }
}

/* The row in one of the times upwards. Returned: whether anything is near it. */
static bool count_row(struct crowd *crowd, int row, int64_t time)
{
    const struct worked_catches *worked = crowd->worked;
    int64_t nrows = worked->band->rows, middle = time * nrows + row;
    int64_t sum = 0, near = 0;

    memset(crowd->change, 0, ((size_t)worked->ncols + 1) * sizeof *crowd->change);
    for (int64_t rows = -crowd->reach; rows <= crowd->reach; rows++) {
        int64_t at = middle + rows;

        if (at < 0 || at >= nrows * worked->band->upwards)
            continue;
        at %= nrows;
        near += worked->start[at + 1] - worked->start[at];
        spread_row(crowd, (int)at, crowd->half[rows < 0 ? -rows : rows]);
    }
    for (int column = 0; near > 0 && column < worked->ncols; column++) {
        sum += crowd->change[column];
        crowd->here[column] = sum;
    }
    return near > 0;
}

/* --- the band ------------------------------------------------------------------------------ */

static bool is_stitch(const struct plan_band *band, int row, int drawn)
{
    const struct grid *grid = &band->right;

    if (drawn >= band->right.ncols) {
        drawn -= band->right.ncols;
        grid = &band->drawn;
        if (drawn >= grid->ncols) {
            drawn -= grid->ncols;
            grid = &band->left;
        }
    }
    return grid_at(grid, row, drawn) != GRID_NO_STITCH;
}

static bool is_catch(const struct worked_catches *worked, int row, int column)
{
    for (int64_t i = worked->start[row]; i < worked->start[row + 1]; i++)
        if (worked->column[i] == column)
            return true;
    return false;
}

static void take_row(const struct crowd *crowd, int row, struct plan_crowding *worst,
                     bool *on_catch, uint32_t *each)
{
    const struct worked_catches *worked = crowd->worked;
    int drawn_ncols = worked_drawn_ncols(worked->band);

    for (int column = 0; column < worked->ncols; column++) {
        int64_t count = crowd->here[column];
        int drawn;

        if (count == 0 || (!each && count < worst->most))
            continue;
        drawn = worked_drawn_column(worked, column);
        if (!is_stitch(worked->band, row, drawn))
            continue;
        if (count > worst->most ||
            (count == worst->most && !*on_catch && is_catch(worked, row, column))) {
            *on_catch = is_catch(worked, row, column);
            worst->most = count;
            worst->row = row;
            worst->column = drawn;
        }
        if (each) {
            uint32_t *most = &each[(size_t)row * (size_t)drawn_ncols + (size_t)drawn];

            *most = count > *most ? (uint32_t)count : *most;
        }
    }
}

struct plan_crowding crowding_read(struct work *work, const struct plan_band *band, double per_in,
                                   double rows_per_in, double within_in, uint32_t *each)
{
    struct plan_crowding worst = {.within_in = within_in, .row = -1, .column = -1};
    struct arena *scratch = arena_branch(work->arena);
    struct worked_catches worked = worked_catches_read(scratch, band);
    struct crowd crowd = crowd_begin(scratch, &worked, per_in, rows_per_in, within_in);
    /* With enough times upwards one in the middle has all its neighbours; else each is looked at.
     */
    int64_t enough = 2 * (crowd.reach / band->rows + 1) + 1;
    int64_t first = band->upwards > enough ? band->upwards / 2 : 0;
    int64_t end = band->upwards > enough ? first + 1 : band->upwards;
    bool on_catch = false;

    for (int row = 0; row < band->rows; row++)
        for (int64_t time = first; time < end; time++)
            if (count_row(&crowd, row, time))
                take_row(&crowd, row, &worst, &on_catch, each);
    arena_destroy(scratch);
    return worst;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "symmetry.h"

#include "base/arena.h"
#include "base/work.h"

/* Stitches looked at for one kind; some seconds on a small machine. Beyond: none is found. */
static const int64_t STEPS_MAX = 100000000;

static uint8_t cell_at(const struct grid *grid, int row, int column)
{
    return grid->cell[(size_t)row * (size_t)grid->ncols + (size_t)column];
}

uint8_t symmetry_ground(const struct grid *grid)
{
    int64_t count[256] = {0};
    size_t n = (size_t)grid->nrows * (size_t)grid->ncols;
    uint8_t ground = 0;

    for (size_t i = 0; i < n; i++)
        count[grid->cell[i]]++;
    for (int yarn = 1; yarn < GRID_YARNS_MAX; yarn++)
        if (count[yarn] > count[ground])
            ground = (uint8_t)yarn;
    return ground;
}

/* Into the chart, round the join where there is one. */
static bool fold(int *at, int count, bool ring)
{
    if (*at >= 0 && *at < count)
        return true;
    if (!ring)
        return false;
    *at = (*at % count + count) % count;
    return true;
}

bool symmetry_partner(const struct symmetry_field *field, const struct symmetry *symmetry, int row,
                      int column, int *partner_row, int *partner_column)
{
    bool turns_rows = symmetry->kind == SYMMETRY_HALF_TURN || symmetry->kind == SYMMETRY_ROWS;
    bool turns_columns = symmetry->kind == SYMMETRY_HALF_TURN || symmetry->kind == SYMMETRY_MIRROR;

    *partner_row = turns_rows ? symmetry->row - row : symmetry->row + row;
    *partner_column = turns_columns ? symmetry->column - column : symmetry->column + column;
    return fold(partner_row, field->grid->nrows, field->ring_rows) &&
           fold(partner_column, field->grid->ncols, field->ring);
}

/* --- exact mirrors --------------------------------------------------------------------------- */

static bool columns_alike(const struct grid *grid, int one, int other)
{
    for (int row = 0; row < grid->nrows; row++)
        if (cell_at(grid, row, one) != cell_at(grid, row, other))
            return false;
    return true;
}

static bool mirrors_about(const struct grid *grid, const uint64_t *sum, int axis)
{
    int n = grid->ncols;

    for (int c = 0; c < n; c++)
        if (sum[c] != sum[(axis % n - c + n) % n])
            return false;
    for (int c = 0; c < n; c++)
        if (!columns_alike(grid, c, (axis % n - c + n) % n))
            return false;
    return true;
}

int symmetry_next_mirror(struct work *work, const struct grid *grid, int from)
{
    struct arena *scratch = arena_branch(work->arena);
    uint64_t *sum = arena_alloc(scratch, (size_t)grid->ncols, sizeof *sum);
    int found = -1;

    for (int row = 0; row < grid->nrows; row++)
        for (int c = 0; c < grid->ncols; c++)
            sum[c] = (sum[c] ^ cell_at(grid, row, c)) * UINT64_C(1099511628211) + 1;
    for (int axis = from; axis < from + grid->ncols && found < 0; axis++)
        if (mirrors_about(grid, sum, axis))
            found = axis;
    arena_destroy(scratch);
    return found;
}

/* --- turned over: the stitches that are not in the ground decide ----------------------------- */

/* Both stitches of a pair that differ may be listed: hence half counts. */
struct search {
    const struct symmetry_field *field;
    const int32_t *listed; /* row * ncols + column of what is not in the ground */
    int64_t nlisted;
    const bool *row_mixed, *column_mixed;
    int64_t from; /* where the last one tried failed: likely to fail the next at once */
    int64_t steps;
};

/* 0: agrees; 1: differs from a stitch that is listed too; 2: from the ground. */
static int half_breaks(const struct search *search, const struct symmetry *tried, int32_t at,
                       bool *other)
{
    const struct grid *grid = search->field->grid;
    int row = at / grid->ncols, column = at % grid->ncols, partner_row, partner_column;
    uint8_t yarn = cell_at(grid, row, column), partner = search->field->ground;

    *other = true;
    if (symmetry_partner(search->field, tried, row, column, &partner_row, &partner_column)) {
        partner = cell_at(grid, partner_row, partner_column);
        *other = partner_row != row || partner_column != column;
    }
    return partner == yarn ? 0 : partner == search->field->ground ? 2 : 1;
}

static bool try_turned(struct search *search, struct symmetry *tried, int64_t most_breaks)
{
    int64_t halves = 0;
    int ncols = search->field->grid->ncols;
    bool other;

    tried->agreeing = 0;
    for (int64_t i = 0; i < search->nlisted; i++) {
        int64_t k = search->from + i < search->nlisted ? search->from + i
                                                       : search->from + i - search->nlisted;
        int32_t at = search->listed[k];
        int off = half_breaks(search, tried, at, &other);

        search->steps++;
        halves += off;
        if (halves > 2 * most_breaks) {
            search->from = k;
            return false;
        }
        tried->agreeing += off == 0 && other && search->row_mixed[at / ncols] &&
                           search->column_mixed[at % ncols];
    }
    tried->breaks = halves / 2;
    return true;
}

struct span {
    int from, to; /* to is one beyond */
};

static struct span axes(int count, bool ring, bool turns)
{
    if (!turns)
        return (struct span){0, 1};
    if (ring)
        return (struct span){0, count};
    return (struct span){count - 1 - count / 4, count + count / 4};
}

static bool best_turned(struct search *search, enum symmetry_kind kind, int64_t most_breaks,
                        struct symmetry *best)
{
    const struct symmetry_field *field = search->field;
    struct span rows = axes(field->grid->nrows, field->ring_rows, kind != SYMMETRY_MIRROR);
    struct span columns = axes(field->grid->ncols, field->ring, kind != SYMMETRY_ROWS);
    bool found = false;

    for (int row = rows.from; row < rows.to; row++)
        for (int column = columns.from; column < columns.to; column++) {
            struct symmetry tried = {.kind = kind, .row = row, .column = column, .times = 2};

            if (search->steps > STEPS_MAX)
                return false;
            if (!try_turned(search, &tried, most_breaks))
                continue;
            *best = tried;
            found = true;
            if (tried.breaks == 0)
                return true;
            most_breaks = tried.breaks - 1;
        }
    return found;
}

/* --- shifted ------------------------------------------------------------------------------ */

/* The stitches that a shift brings one to another: all but the commonest yarn must change. */
static void count_orbit(const struct search *search, struct symmetry *tried, int row, int column)
{
    const struct grid *grid = search->field->grid;
    int count[256] = {0}, most = 0;

    for (int i = 0; i < tried->times; i++) {
        uint8_t yarn = cell_at(grid, row, column);

        count[yarn]++;
        most = count[yarn] > most ? count[yarn] : most;
        symmetry_partner(search->field, tried, row, column, &row, &column);
    }
    tried->breaks += tried->times - most;
    if (count[search->field->ground] < most && most > 1 && search->row_mixed[row] &&
        search->column_mixed[column])
        tried->agreeing += most;
}

static bool try_shift(const struct search *search, struct symmetry *tried, int64_t most_breaks)
{
    const struct grid *grid = search->field->grid;
    int rows = tried->row > 0 ? tried->row : grid->nrows;
    int columns = tried->row > 0 ? grid->ncols : tried->column;

    tried->breaks = tried->agreeing = 0;
    for (int row = 0; row < rows; row++)
        for (int column = 0; column < columns; column++) {
            count_orbit(search, tried, row, column);
            if (tried->breaks > most_breaks)
                return false;
        }
    return true;
}

static bool best_shift(const struct search *search, int64_t most_breaks, struct symmetry *best)
{
    const struct grid *grid = search->field->grid;
    bool found = false, half_rows = search->field->ring_rows && grid->nrows % 2 == 0;
    int last = half_rows ? 2 : 0;

    for (int step = 0; step <= last; step++) /* by the width, by half the height, by half of both */
        for (int times = step == 1 ? 2 : grid->ncols; times >= 2; times--) {
            struct symmetry tried = {.kind = SYMMETRY_SHIFT,
                                     .row = step > 0 ? grid->nrows / 2 : 0,
                                     .column = step == 1 ? 0 : grid->ncols / times,
                                     .times = times};

            if ((step != 1 && (grid->ncols % times != 0 || !search->field->ring)) ||
                (step == 2 && times != 2) || !try_shift(search, &tried, most_breaks))
                continue;
            *best = tried;
            found = true;
            if (tried.breaks == 0)
                return true;
            most_breaks = tried.breaks - 1;
        }
    return found;
}

/* --- all of them --------------------------------------------------------------------------- */

static void note_mixed(const struct grid *grid, bool *row_mixed, bool *column_mixed)
{
    for (int row = 0; row < grid->nrows; row++)
        for (int column = 0; column < grid->ncols; column++) {
            uint8_t yarn = cell_at(grid, row, column);

            row_mixed[row] = row_mixed[row] || yarn != cell_at(grid, row, 0);
            column_mixed[column] = column_mixed[column] || yarn != cell_at(grid, 0, column);
        }
}

static int64_t list_pattern(const struct symmetry_field *field, int32_t *listed)
{
    int32_t n = field->grid->nrows * field->grid->ncols;
    int64_t count = 0;

    for (int32_t i = 0; i < n; i++)
        if (field->grid->cell[i] != field->ground)
            listed[count++] = i;
    return count;
}

bool symmetry_best(struct work *work, const struct symmetry_field *field, enum symmetry_kind kind,
                   int64_t most_breaks, struct symmetry *best)
{
    const struct grid *grid = field->grid;
    int64_t ncells = (int64_t)grid->nrows * grid->ncols;
    struct arena *scratch;
    struct search search = {.field = field};
    bool *row_mixed, *column_mixed, found;
    int32_t *listed;

    if (ncells > SYMMETRY_CELLS_MAX || ncells == 0)
        return false;
    scratch = arena_branch(work->arena);
    row_mixed = arena_alloc(scratch, (size_t)grid->nrows, sizeof *row_mixed);
    column_mixed = arena_alloc(scratch, (size_t)grid->ncols, sizeof *column_mixed);
    listed = arena_alloc(scratch, (size_t)ncells, sizeof *listed);
    note_mixed(grid, row_mixed, column_mixed);
    search.row_mixed = row_mixed;
    search.column_mixed = column_mixed;
    search.listed = listed;
    search.nlisted = list_pattern(field, listed);
    found = kind == SYMMETRY_SHIFT ? best_shift(&search, most_breaks, best)
                                   : best_turned(&search, kind, most_breaks, best);
    arena_destroy(scratch);
    return found;
}

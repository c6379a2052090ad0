/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "remake.h"

#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "model/motif/symmetry.h"

struct grid remake_begin(struct work *work, const struct grid *grid, int first)
{
    struct grid begun = *grid;
    int n = grid->ncols;
    uint8_t *cell;

    if (first == 0 || grid->nrows == 0)
        return begun;
    cell = arena_alloc(work->arena, (size_t)grid->nrows * (size_t)n, 1);
    for (int row = 0; row < grid->nrows; row++)
        for (int column = 0; column < n; column++)
            cell[(size_t)row * (size_t)n + (size_t)column] = grid_at(grid, row, (column + first) % n);
    begun.cell = cell;
    return begun;
}

static uint8_t row_ground(const struct grid *grid, int row, int of_chart)
{
    int64_t count[GRID_YARNS_MAX] = {0};
    int most = 0;

    for (int column = 0; column < grid->ncols; column++)
        if (grid_at(grid, row, column) < GRID_YARNS_MAX)
            count[grid_at(grid, row, column)]++;
    for (int yarn = 1; yarn < GRID_YARNS_MAX; yarn++)
        if (count[yarn] > count[most])
            most = yarn;
    return (uint8_t)(count[of_chart] > 0 ? of_chart : most);
}

bool remake_is_one_and_one(const struct grid *repeat, int row)
{
    int n = repeat->ncols;

    if (n < 2 || n % 2 != 0 || grid_at(repeat, row, 0) == grid_at(repeat, row, 1))
        return false;
    for (int column = 2; column < n; column++)
        if (grid_at(repeat, row, column) != grid_at(repeat, row, column - 2))
            return false;
    return true;
}

/* What a place between two columns is judged by. */
struct places {
    const struct grid *repeat;
    uint8_t *ground; /* of each row */
    bool *of_one;    /* it is one and one, and no line */
};

static struct places read_places(struct work *work, const struct grid *repeat)
{
    size_t n = (size_t)repeat->nrows;
    struct places places = {repeat, arena_alloc(work->arena, n, sizeof *places.ground),
                            arena_alloc(work->arena, n, sizeof *places.of_one)};
    int of_chart = symmetry_ground(repeat);

    for (int row = 0; row < repeat->nrows; row++) {
        places.ground[row] = row_ground(repeat, row, of_chart);
        places.of_one[row] = remake_is_one_and_one(repeat, row);
    }
    return places;
}

/* A yarn of the pattern on both sides. */
static bool runs_through(const struct places *places, int row, int after)
{
    const struct grid *repeat = places->repeat;
    uint8_t yarn = grid_at(repeat, row, after - 1);

    return !places->of_one[row] && yarn != places->ground[row] &&
           yarn == grid_at(repeat, row, after % repeat->ncols);
}

/* Between a row and the next: it has a yarn of the pattern at `from`, that one at `to`. */
static bool steps_over(const struct places *places, int row, int from, int to)
{
    uint8_t yarn = grid_at(places->repeat, row, from);

    return yarn != places->ground[row] && yarn != places->ground[row + 1] &&
           yarn == grid_at(places->repeat, row + 1, to);
}

/* A line goes aslant from one side in a row to the other in the next. */
static bool slants_through(const struct places *places, int row, int after)
{
    int right = after - 1, left = after % places->repeat->ncols;

    if (row < 0 || row + 1 >= places->repeat->nrows || places->of_one[row] || places->of_one[row + 1] ||
        runs_through(places, row, after) || runs_through(places, row + 1, after))
        return false;
    return steps_over(places, row, right, left) || steps_over(places, row, left, right);
}

static bool is_torn(const struct places *places, int row, int after)
{
    return runs_through(places, row, after) || slants_through(places, row - 1, after) ||
           slants_through(places, row, after);
}

const int *remake_torn_rows(struct work *work, const struct grid *repeat, int after, int *count)
{
    struct places places = read_places(work, repeat);
    int *list = arena_alloc(work->arena, (size_t)repeat->nrows, sizeof *list);

    *count = 0;
    for (int row = 0; row < repeat->nrows; row++)
        if (is_torn(&places, row, after))
            list[(*count)++] = row;
    return list;
}

int remake_plain_place(struct work *work, const struct grid *repeat, bool join_only)
{
    int n = repeat->ncols, best = n, best_torn = 0, best_plain = -1;
    struct places places = read_places(work, repeat);

    for (int step = 0; step < (join_only ? 1 : n); step++) {
        int after = step == 0 ? n : step; /* the join first: it stays where others are no better */
        int torn = 0, plain = 0;

        for (int row = 0; row < repeat->nrows; row++) {
            torn += is_torn(&places, row, after);
            plain += grid_at(repeat, row, after - 1) == places.ground[row] &&
                     grid_at(repeat, row, after % n) == places.ground[row];
        }
        if (best_plain >= 0 && (torn > best_torn || (torn == best_torn && plain <= best_plain)))
            continue;
        best = after;
        best_torn = torn;
        best_plain = plain;
    }
    return best;
}

/* --- columns left out, or worked twice -------------------------------------------------- */

static int colour_changes(const struct grid *grid, int row)
{
    int changes = 0;

    for (int c = 0; c < grid->ncols; c++)
        changes += grid_at(grid, row, c) != grid_at(grid, row, (c + 1) % grid->ncols);
    return changes;
}

const int *remake_lost_rows(struct work *work, const struct grid *was, const struct grid *now, int *count)
{
    int *list = arena_alloc(work->arena, (size_t)was->nrows, sizeof *list);

    *count = 0;
    for (int row = 0; row < was->nrows; row++)
        if (!remake_is_one_and_one(was, row) && colour_changes(now, row) < colour_changes(was, row))
            list[(*count)++] = row;
    return list;
}

struct columns {
    const struct grid *grid;
    enum remake_ends ends;
    bool left_out;
    int *lone, *differs; /* [ncols]: rows in which it is unlike both neighbours; unlike one */
    bool *lines;         /* [ncols * nrows], column by column: it is lone there, and no one and one */
};

static struct columns read_columns(struct work *work, const struct grid *grid, enum remake_ends ends)
{
    int n = grid->ncols;
    struct columns columns = {.grid = grid, .ends = ends};

    columns.lone = arena_alloc(work->arena, (size_t)n, sizeof *columns.lone);
    columns.differs = arena_alloc(work->arena, (size_t)n, sizeof *columns.differs);
    columns.lines = arena_alloc(work->arena, (size_t)n * (size_t)grid->nrows, sizeof *columns.lines);
    for (int row = 0; row < grid->nrows; row++) {
        bool of_one = remake_is_one_and_one(grid, row);

        for (int c = 0; c < n; c++) {
            bool left = grid_at(grid, row, c) != grid_at(grid, row, (c + 1) % n);
            bool right = grid_at(grid, row, c) != grid_at(grid, row, (c + n - 1) % n);

            columns.lone[c] += left && right;
            columns.differs[c] += left || right;
            columns.lines[c * grid->nrows + row] = left && right && !of_one;
        }
    }
    return columns;
}

static bool may_change(const struct columns *columns, int c)
{
    return columns->ends != REMAKE_KEEP_ENDS || (c > 0 && c < columns->grid->ncols - 1);
}

/* Two that touch and mirror each other are alike: a run of these two alone goes with them. */
static int lines_of_two(const struct grid *grid, int right)
{
    int n = grid->ncols, lines = 0;

    for (int row = 0; row < grid->nrows; row++) {
        uint8_t yarn = grid_at(grid, row, right);

        lines += yarn != grid_at(grid, row, (right + n - 1) % n) &&
                 yarn != grid_at(grid, row, (right + 2) % n);
    }
    return lines;
}

/* Rows that lose a run with column c (and `other`, if not -1); once over `most`, no matter how many. */
static int lines_lost(const struct columns *columns, int c, int other, int most)
{
    int n = columns->grid->ncols, nrows = columns->grid->nrows, lost = 0;
    const bool *one = columns->lines + c * nrows, *two = other >= 0 ? columns->lines + other * nrows : one;

    if (!columns->left_out)
        return 0;
    if (other >= 0 && (c + 1) % n == other)
        return lines_of_two(columns->grid, c);
    if (other >= 0 && (other + 1) % n == c)
        return lines_of_two(columns->grid, other);
    for (int row = 0; row < nrows && lost <= most; row++)
        lost += one[row] || two[row];
    return lost;
}

/* What the best is judged by, in this order; its lone stitches between the two. */
struct weight {
    int lines, differs;
};

/* Takes column c (and `other`, if not -1) where they are better than what was found. */
static void weigh(const struct columns *columns, int c, int other, struct remake *best,
                  struct weight *weight)
{
    int lone = columns->lone[c] + (other >= 0 ? columns->lone[other] : 0);
    int unlike = columns->differs[c] + (other >= 0 ? columns->differs[other] : 0), lines;
    bool first = best->ncolumns == 0;

    if (!may_change(columns, c) || (other >= 0 && !may_change(columns, other)))
        return;
    lines = lines_lost(columns, c, other, first ? columns->grid->nrows : weight->lines);
    if (!first && lines > weight->lines)
        return;
    if (!first && lines == weight->lines &&
        (lone > best->lone_sts || (lone == best->lone_sts && unlike >= weight->differs)))
        return;
    best->ncolumns = other >= 0 ? 2 : 1;
    best->column[0] = other >= 0 && other < c ? other : c;
    best->column[1] = other > c ? other : c;
    best->lone_sts = lone;
    *weight = (struct weight){lines, unlike};
}

static void find_mirrored(const struct columns *columns, int axis, int count, struct remake *best)
{
    int n = columns->grid->ncols;
    struct weight weight = {0};

    for (int c = 0; c < n; c++) {
        int partner = (axis - c + n) % n;
        bool beside = partner == c + 1 || (c == n - 1 && partner == 0 && columns->ends == REMAKE_RING);

        /* Of two that touch the one that is left stands on the mirror line then. */
        if (count == 1 && (partner == c || beside))
            weigh(columns, c, -1, best, &weight);
        if (count == 2 && partner > c)
            weigh(columns, c, partner, best, &weight);
    }
    best->one_of_two = best->ncolumns == 1 && (axis - best->column[0] + n) % n != best->column[0];
}

/* Without a mirror: one column, or two that do not touch, over the join neither. */
static void find_any(const struct columns *columns, int count, struct remake *best)
{
    int n = columns->grid->ncols;
    struct weight weight = {0};

    for (int c = 0; c < n; c++) {
        if (count == 1)
            weigh(columns, c, -1, best, &weight);
        for (int other = c + 2; count == 2 && other < n; other++)
            if (other - c < n - 1)
                weigh(columns, c, other, best, &weight);
    }
}

bool remake_find_columns(struct work *work, const struct grid *repeat, int change, enum remake_ends ends,
                         struct remake *remake)
{
    int count = change < 0 ? -change : change, axis;
    struct columns columns;

    *remake = (struct remake){.kind = REMAKE_COLUMNS};
    if (count < 1 || count > 2 || repeat->ncols + change < 2 || repeat->ncols + change > GRID_SIDE_MAX)
        return false;
    columns = read_columns(work, repeat, ends);
    columns.left_out = change < 0;
    axis = symmetry_next_mirror(work, repeat, 0);
    if (axis >= 0)
        find_mirrored(&columns, axis, count, remake);
    else
        find_any(&columns, count, remake);
    remake->twice = change > 0;
    remake->mirrored = axis >= 0;
    return remake->ncolumns == count;
}

/* --- the chart changed --------------------------------------------------------------------- */

/* Cells being laid down, row by row from the right. */
struct laying {
    uint8_t *cell;
    size_t count;
};

static void lay(struct laying *laying, const uint8_t *cells, int count)
{
    if (count > 0)
        memcpy(laying->cell + laying->count, cells, (size_t)count);
    laying->count += (size_t)count;
}

static void lay_plain(struct laying *laying, uint8_t yarn, int count)
{
    if (count > 0)
        memset(laying->cell + laying->count, yarn, (size_t)count);
    laying->count += (size_t)count;
}

static const uint8_t *row_of(const struct grid *grid, int row)
{
    return grid->ncols > 0 ? grid->cell + (size_t)row * (size_t)grid->ncols : NULL;
}

static void lay_columns(struct laying *laying, const struct remake *remake, const struct grid *from,
                        int row)
{
    for (int c = 0, next = 0; c < from->ncols; c++) {
        bool named = next < remake->ncolumns && remake->column[next] == c;
        uint8_t yarn = grid_at(from, row, c);

        next += named;
        lay_plain(laying, yarn, named ? (remake->twice ? 2 : 0) : 1);
    }
}

/* Part of a repeat, or plain, before the repeats (its last columns) or after them (its first). */
static void lay_over(struct laying *laying, const struct remake *remake, const struct grid *from,
                     int row, uint8_t ground, bool before)
{
    int count = before ? remake->right_over : remake->left_over;

    if (remake->over_plain)
        lay_plain(laying, ground, count);
    else
        lay(laying, row_of(from, row) + (before ? from->ncols - count : 0), count);
}

static void lay_row(struct laying *laying, const struct remake *remake,
                    const struct remake_band *band, int row, uint8_t ground)
{
    const struct grid *from = &band->repeat;

    if (remake->kind == REMAKE_COLUMNS) {
        lay_columns(laying, remake, from, row);
    } else if (remake->kind == REMAKE_PLAIN_COLUMNS) {
        lay(laying, row_of(from, row), remake->plain_after);
        lay_plain(laying, ground, remake->plain_columns);
        lay(laying, row_of(from, row) + remake->plain_after, from->ncols - remake->plain_after);
    } else {
        lay_over(laying, remake, from, row, ground, true);
        for (int i = 0; i < band->repeats; i++)
            lay(laying, row_of(from, row), from->ncols);
        lay_over(laying, remake, from, row, ground, false);
    }
}

static void lay_side(struct laying *laying, const struct remake *remake,
                     const struct remake_band *band, int row, uint8_t ground, bool right)
{
    if (right)
        lay(laying, row_of(&band->right, row), band->right.ncols);
    lay_over(laying, remake, &band->repeat, row, ground, right);
    if (!right)
        lay(laying, row_of(&band->left, row), band->left.ncols);
}

enum laid { LAID_REPEAT, LAID_RIGHT, LAID_LEFT };

/* One grid of the changed band, ncols wide; false: too large for a chart. */
static bool lay_grid(struct work *work, const struct remake *remake, const struct grid *knitted,
                     const struct remake_band *band, enum laid what, int64_t ncols, struct grid *grid)
{
    struct laying laying = {0};
    int nrows = band->repeat.nrows, of_chart = symmetry_ground(knitted);

    if (ncols < 1 || ncols > GRID_SIDE_MAX || ncols * nrows > GRID_CELLS_MAX)
        return false;
    laying.cell = arena_alloc(work->arena, (size_t)ncols * (size_t)nrows, 1);
    for (int row = 0; row < nrows; row++) {
        uint8_t ground = row_ground(knitted, row, of_chart);

        if (what == LAID_REPEAT)
            lay_row(&laying, remake, band, row, ground);
        else
            lay_side(&laying, remake, band, row, ground, what == LAID_RIGHT);
    }
    *grid = (struct grid){nrows, (int)ncols, laying.cell};
    return true;
}

bool remake_apply(struct work *work, const struct remake *remake, const struct grid *knitted,
                  const struct remake_band *band, struct remake_band *changed)
{
    int64_t n = band->repeat.ncols;
    int right = band->right.ncols + remake->right_over, left = band->left.ncols + remake->left_over;

    *changed = *band;
    if (remake->kind == REMAKE_NOTHING)
        return true;
    if (remake->kind == REMAKE_SIDES && !remake->ring)
        return (right == 0 || lay_grid(work, remake, knitted, band, LAID_RIGHT, right, &changed->right)) &&
               (left == 0 || lay_grid(work, remake, knitted, band, LAID_LEFT, left, &changed->left));
    if (remake->kind == REMAKE_PLAIN_COLUMNS)
        n += remake->plain_columns;
    else if (remake->kind == REMAKE_COLUMNS)
        n += remake->twice ? remake->ncolumns : -remake->ncolumns;
    else
        n = n * band->repeats + remake->right_over + remake->left_over;
    if (remake->kind == REMAKE_SIDES)
        changed->repeats = 1;
    return lay_grid(work, remake, knitted, band, LAID_REPEAT, n, &changed->repeat);
}

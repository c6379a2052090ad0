/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catches_rows.h"

#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "catches_float.h"
#include "catches_pairs.h"

enum {
    TIMES_THROUGH = 3,
    NO_COLUMN = -1 /* a catch allowed for but not made: the spare not needed */
};

/* A float to be caught. Its catches have fixed places in the list, one more than the fewest
 * if it may take a spare, so that any row can be done again where it lies. */
struct caught_float {
    int from, span_sts;
    int fewest, most;
    int room_sts; /* how far a catch can move: the fewer, the sooner it is placed */
    int64_t first_mark;
    uint8_t yarn;
};

struct rows {
    struct work *work;
    const struct catch_cloth *cloth;
    const struct catch_rules *rules;
    struct catch_key key;
    struct catch_scratch scratch;
    int nrows, ncols, right_cols;
    bool ring;
    bool again; /* row 0 lies above the last row too */
    bool alone; /* ... and is the last row: its own neighbour */

    /* The row being worked on. */
    uint8_t *cells, *yarn_of;
    int *column; /* of each stitch; in a ring twice over, for floats over the join */
    struct float_run *runs;
    struct caught_float *floats;
    int nfloats;
    bool crowded;     /* three yarns or more: two strands can meet behind one stitch */
    uint64_t *ground; /* [column]: the key of a catch there, by what stands already */
    int *position, *position_spare;

    /* All rows. */
    struct catch_mark *mark;
    int64_t nmarks, capacity;
    int64_t *row_start; /* [nrows + 1] */
    int rows_known;
    int64_t fewest_of[GRID_YARNS_MAX];
    int64_t *inner_start; /* [nrows + 1], if there are copies */
};

static bool has_sides(const struct grid *side)
{
    return side && side->ncols > 0;
}

static int yarns_in_cells(const struct grid *grid, bool *seen)
{
    size_t ncells = (size_t)grid->nrows * (size_t)grid->ncols;
    int nyarns = 0;

    for (size_t i = 0; i < ncells; i++)
        seen[grid->cell[i]] = true;
    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++)
        nyarns += seen[yarn];
    return nyarns;
}

static int yarns_in_cloth(const struct catch_cloth *cloth)
{
    bool seen[256] = {false};

    if (has_sides(cloth->left))
        yarns_in_cells(cloth->left, seen);
    if (has_sides(cloth->right))
        yarns_in_cells(cloth->right, seen);
    return yarns_in_cells(cloth->repeat, seen);
}

static int64_t *starts_of_rows(struct arena *arena, const struct catch_map *map, int nrows)
{
    int64_t *start = arena_alloc(arena, (size_t)nrows + 1, sizeof *start);
    int64_t i = 0;

    for (int r = 0; r < nrows; r++) {
        start[r] = i;
        while (i < map->count && map->mark[i].row == r)
            i++;
    }
    start[nrows] = i;
    return start;
}

static void rows_begin(struct rows *rows, struct work *work, const struct catch_cloth *cloth,
                       const struct catch_rules *rules)
{
    struct arena *arena = work->arena;
    size_t ncols;

    *rows = (struct rows){.work = work, .cloth = cloth, .rules = rules};
    rows->nrows = cloth->repeat->nrows;
    rows->right_cols = has_sides(cloth->right) ? cloth->right->ncols : 0;
    rows->ncols = rows->right_cols + cloth->repeats * cloth->repeat->ncols +
                  (has_sides(cloth->left) ? cloth->left->ncols : 0);
    rows->ring = cloth->ends == FLOATS_RING;
    rows->again = rules->again_above && rows->nrows > 0;
    rows->alone = rows->again && rows->nrows == 1;
    rows->key = catches_key(rules, rows->ncols, yarns_in_cloth(cloth));
    rows->scratch = catches_scratch(arena, rows->ncols);

    ncols = (size_t)rows->ncols;
    rows->cells = arena_alloc(arena, ncols, 1);
    rows->yarn_of = arena_alloc(arena, ncols, 1);
    rows->column = arena_alloc(arena, 2 * ncols, sizeof *rows->column);
    rows->runs = arena_alloc(arena, ncols + 2 * GRID_YARNS_MAX, sizeof *rows->runs);
    rows->floats = arena_alloc(arena, ncols + 2 * GRID_YARNS_MAX, sizeof *rows->floats);
    rows->ground = arena_alloc(arena, ncols, sizeof *rows->ground);
    rows->position = arena_alloc(arena, ncols + 1, sizeof *rows->position);
    rows->position_spare = arena_alloc(arena, ncols + 1, sizeof *rows->position_spare);
    rows->row_start = arena_alloc(arena, (size_t)rows->nrows + 1, sizeof *rows->row_start);
    if (cloth->inner)
        rows->inner_start = starts_of_rows(arena, cloth->inner, rows->nrows);
}

static const uint8_t *grid_row(const struct grid *grid, int r)
{
    return grid->cell + (size_t)r * (size_t)grid->ncols;
}

/* Returned: stitches in the row. */
static int row_read(struct rows *rows, int r)
{
    const struct catch_cloth *cloth = rows->cloth;
    size_t repeat_cols = (size_t)cloth->repeat->ncols;
    uint8_t *to = rows->cells;
    int nstitches;

    if (has_sides(cloth->right))
        memcpy(to, grid_row(cloth->right, r), (size_t)rows->right_cols);
    to += rows->right_cols;
    for (int i = 0; i < cloth->repeats; i++, to += repeat_cols)
        memcpy(to, grid_row(cloth->repeat, r), repeat_cols);
    if (has_sides(cloth->left))
        memcpy(to, grid_row(cloth->left, r), (size_t)cloth->left->ncols);

    nstitches = floats_row_columns(rows->cells, rows->ncols, rows->column);
    for (int i = 0; i < nstitches; i++)
        rows->yarn_of[i] = rows->cells[rows->column[i]];
    memcpy(rows->column + nstitches, rows->column, (size_t)nstitches * sizeof *rows->column);
    return nstitches;
}

static bool in_repeats(const struct rows *rows, int nstitches, int stitch)
{
    int column;

    if (stitch < 0 || stitch >= nstitches)
        return false;
    column = rows->column[stitch] - rows->right_cols;
    return column >= 0 && column < rows->cloth->repeats * rows->cloth->repeat->ncols;
}

/* Its catches are those of the repeat, already there. */
static bool is_copied(const struct rows *rows, int nstitches, const struct float_run *run)
{
    return rows->cloth->inner && in_repeats(rows, nstitches, run->from) &&
           in_repeats(rows, nstitches, run->from + run->span_sts + 1);
}

static int by_room(const void *a, const void *b)
{
    const struct caught_float *one = a, *other = b;

    if (one->room_sts != other->room_sts)
        return one->room_sts < other->room_sts ? -1 : 1;
    return one->first_mark < other->first_mark ? -1 : one->first_mark > other->first_mark;
}

/* Where two strands can meet, the float with the least room goes first. */
static void row_set_order(struct rows *rows)
{
    if (rows->crowded)
        qsort(rows->floats, (size_t)rows->nfloats, sizeof *rows->floats, by_room);
}

static struct caught_float float_to_catch(const struct rows *rows, const struct float_run *run,
                                          int64_t first_mark)
{
    int leave_sts = rows->rules->leave_sts;
    int fewest = floats_fewest_catches(run->span_sts, leave_sts);
    bool may_spare = rows->rules->spare && fewest + 1 <= run->span_sts - 2;

    return (struct caught_float){
        .from = run->from,
        .span_sts = run->span_sts,
        .fewest = fewest,
        .most = fewest + may_spare,
        .room_sts = (fewest + 1) * leave_sts + fewest - run->span_sts,
        .first_mark = first_mark,
        .yarn = run->yarn,
    };
}

/* The floats of row r that are to be caught, in the order of placing. Returned: the end of
 * their marks. */
static int64_t row_load(struct rows *rows, int r)
{
    int nstitches = row_read(rows, r);
    int nruns = floats_of_row(rows->yarn_of, nstitches, rows->cloth->ends, rows->runs);
    bool first_time = r >= rows->rows_known;
    int64_t mark = rows->row_start[r];
    uint64_t yarns = 0;

    rows->nfloats = 0;
    for (int i = 0; i < nruns; i++) {
        const struct float_run *run = &rows->runs[i];
        struct caught_float *to = &rows->floats[rows->nfloats];

        yarns |= UINT64_C(1) << run->yarn;
        if (run->span_sts <= rows->rules->leave_sts)
            continue;
        *to = float_to_catch(rows, run, mark);
        if (first_time)
            rows->fewest_of[run->yarn] += to->fewest;
        if (is_copied(rows, nstitches, run))
            continue;
        mark += to->most;
        rows->nfloats++;
    }
    yarns &= yarns - 1;
    rows->crowded = (yarns & (yarns - 1)) != 0 || rows->alone;
    row_set_order(rows);
    return mark;
}

static void ground_add_near(struct rows *rows, int column, uint64_t key)
{
    if (column < 0 || column >= rows->ncols) {
        if (!rows->ring)
            return;
        column = (column % rows->ncols + rows->ncols) % rows->ncols;
    }
    rows->ground[column] += key;
}

/* A catch in `column` makes that column dearer by `stacks` pairs, and those beside it by
 * `nears` weights. Negative: it is taken up again (keys wrap round and back). */
static void ground_add(struct rows *rows, int column, int stacks, int nears)
{
    rows->ground[column] += rows->key.stack_unit * (uint64_t)stacks;
    for (int away = 1; away < rows->rules->stagger_cols; away++) {
        int weight = nears * (rows->rules->stagger_cols - away);
        uint64_t key = rows->key.near_unit * (uint64_t)weight;

        ground_add_near(rows, column - away, key);
        ground_add_near(rows, column + away, key);
    }
}

static void ground_add_copies(struct rows *rows, int r, int stacks, int nears)
{
    const struct catch_map *inner = rows->cloth->inner;
    int repeat_cols = rows->cloth->repeat->ncols;

    for (int64_t i = rows->inner_start[r]; i < rows->inner_start[r + 1]; i++) {
        const struct catch_mark *mark = &inner->mark[i];
        struct catch_copies copies =
            catches_copies(rows->cloth->repeat, mark, rows->cloth->repeats);

        for (int copy = copies.first; copy < copies.first + copies.count; copy++)
            ground_add(rows, rows->right_cols + copy * repeat_cols + (int)mark->column, stacks,
                       nears);
    }
}

static void ground_add_row(struct rows *rows, int r, int stacks, int nears)
{
    if (rows->inner_start)
        ground_add_copies(rows, r, stacks, nears);
    if (r >= rows->rows_known)
        return;
    for (int64_t i = rows->row_start[r]; i < rows->row_start[r + 1]; i++)
        if (rows->mark[i].column != NO_COLUMN)
            ground_add(rows, rows->mark[i].column, stacks, nears);
}

/* A catch in the same row: doubled there; in a row that lies on itself, stacked above and
 * below as well. */
static void ground_add_here(struct rows *rows, int column, int sign)
{
    ground_add(rows, column, sign * (rows->alone ? 3 : 1), sign * (rows->alone ? 2 : 0));
}

static int row_below(const struct rows *rows, int r)
{
    return r > 0 ? r - 1 : rows->again ? rows->nrows - 1 : -1;
}

static int row_above(const struct rows *rows, int r)
{
    return r < rows->nrows - 1 ? r + 1 : rows->again ? 0 : -1;
}

static void ground_begin(struct rows *rows)
{
    memset(rows->ground, 0, (size_t)rows->ncols * sizeof *rows->ground);
    if (rows->alone)
        for (int c = 0; c < rows->ncols; c++)
            rows->ground[c] = rows->key.stack_unit;
}

static void ground_set(struct rows *rows, int r)
{
    int below = row_below(rows, r), above = row_above(rows, r);

    ground_begin(rows);
    if (below >= 0 && !rows->alone)
        ground_add_row(rows, below, 1, 1);
    if (above >= 0 && !rows->alone)
        ground_add_row(rows, above, 1, 1);
    if (!rows->crowded)
        return;
    if (rows->inner_start)
        ground_add_copies(rows, r, rows->alone ? 3 : 1, rows->alone ? 2 : 0);
    for (int64_t i = rows->row_start[r]; r < rows->rows_known && i < rows->row_start[r + 1]; i++)
        if (rows->mark[i].column != NO_COLUMN)
            ground_add_here(rows, rows->mark[i].column, 1);
}

static uint64_t best_places(struct rows *rows, const struct catch_float *span, int ncatches,
                            int *position)
{
    if (catches_float_even(&rows->key, span, rows->ground, ncatches, position))
        return 0;
    return catches_float_place(&rows->key, span, rows->ground, ncatches, position,
                               &rows->scratch);
}

/* Returned: how many catches; *position: where. */
static int float_choose(struct rows *rows, const struct caught_float *of, const int **position)
{
    struct catch_float span = {rows->column + of->from + 1, of->span_sts};
    uint64_t key = best_places(rows, &span, of->fewest, rows->position);

    *position = rows->position;
    if (key < rows->key.stack_unit || of->most == of->fewest)
        return of->fewest;
    if (best_places(rows, &span, of->most, rows->position_spare) / rows->key.stack_unit >=
        key / rows->key.stack_unit)
        return of->fewest;
    *position = rows->position_spare;
    return of->most;
}

/* Returned: whether a catch moved. */
static bool float_place(struct rows *rows, int r, const struct caught_float *of)
{
    struct catch_mark *mark = rows->mark + of->first_mark;
    const int *position;
    bool moved = false;
    int ncatches;

    for (int i = 0; rows->crowded && i < of->most; i++)
        if (mark[i].column != NO_COLUMN)
            ground_add_here(rows, mark[i].column, -1);
    ncatches = float_choose(rows, of, &position);
    for (int i = 0; i < of->most; i++) {
        int column = i < ncatches ? rows->column[of->from + position[i]] : NO_COLUMN;

        moved |= column != mark[i].column;
        mark[i].column = column;
        if (column == NO_COLUMN)
            continue;
        mark[i].behind = rows->cells[column];
        mark[i].row = (uint16_t)r;
        mark[i].strand = of->yarn;
        if (rows->crowded)
            ground_add_here(rows, column, 1);
    }
    return moved;
}

static void marks_reserve(struct rows *rows, int64_t nmarks)
{
    int64_t capacity = rows->capacity ? rows->capacity : 64;

    if (nmarks <= rows->capacity)
        return;
    while (capacity < nmarks)
        capacity *= 2;
    rows->mark = arena_grow(rows->work->arena, rows->mark, (size_t)rows->nmarks, (size_t)capacity,
                            sizeof *rows->mark);
    rows->capacity = capacity;
}

static bool row_place(struct rows *rows, int r)
{
    int64_t end = row_load(rows, r);
    bool moved = false;

    if (r >= rows->rows_known) {
        marks_reserve(rows, end);
        for (int64_t i = rows->nmarks; i < end; i++)
            rows->mark[i].column = NO_COLUMN;
        rows->nmarks = rows->row_start[r + 1] = end;
    }
    if (rows->nfloats > 0)
        ground_set(rows, r);
    for (int i = 0; i < rows->nfloats; i++)
        moved |= float_place(rows, r, &rows->floats[i]);
    if (r >= rows->rows_known)
        rows->rows_known = r + 1;
    return moved;
}

/* A row is done again only if it or a neighbour has changed since: `moved[r]` is the number
 * of the step at which a catch of row r last moved, `done[r]` at which it was last tried. */
struct progress {
    int64_t *moved, *done;
    int64_t step;
};

static bool row_is_due(const struct rows *rows, const struct progress *progress, int r)
{
    int below = row_below(rows, r), above = row_above(rows, r);
    int64_t done = progress->done[r];

    return progress->moved[r] >= done || (below >= 0 && progress->moved[below] > done) ||
           (above >= 0 && progress->moved[above] > done);
}

static void rows_place(struct rows *rows)
{
    size_t nrows = (size_t)rows->nrows;
    struct progress progress = {.step = 0};

    progress.moved = arena_alloc(rows->work->arena, nrows, sizeof *progress.moved);
    progress.done = arena_alloc(rows->work->arena, nrows, sizeof *progress.done);
    for (int time = 0; time < TIMES_THROUGH; time++) {
        for (int i = 0; i < rows->nrows; i++) {
            int r = time % 2 == 0 ? i : rows->nrows - 1 - i;

            if (!row_is_due(rows, &progress, r))
                continue;
            progress.done[r] = ++progress.step;
            if (row_place(rows, r))
                progress.moved[r] = progress.step;
        }
    }
}

static void count_row(struct rows *rows, int r, struct catch_pairs *pairs,
                      void (*add)(struct catch_pairs *, int))
{
    for (int64_t i = rows->row_start[r]; i < rows->row_start[r + 1]; i++)
        if (rows->mark[i].column != NO_COLUMN)
            add(pairs, rows->mark[i].column);
    if (!rows->inner_start)
        return;
    for (int64_t i = rows->inner_start[r]; i < rows->inner_start[r + 1]; i++) {
        const struct catch_mark *mark = &rows->cloth->inner->mark[i];
        struct catch_copies copies =
            catches_copies(rows->cloth->repeat, mark, rows->cloth->repeats);

        for (int copy = copies.first; copy < copies.first + copies.count; copy++)
            add(pairs, rows->right_cols + copy * rows->cloth->repeat->ncols + mark->column);
    }
}

static void rows_count_pairs(struct rows *rows, struct catch_map *map)
{
    struct catch_pairs pairs = catch_pairs_begin(rows->work->arena, rows->ncols, rows->ring);

    for (int r = 0; r < rows->nrows; r++) {
        count_row(rows, r, &pairs, catch_pairs_add);
        catch_pairs_next_row(&pairs);
    }
    if (rows->again)
        count_row(rows, 0, &pairs, catch_pairs_add_again);
    map->stacked = pairs.stacked;
    map->doubled = pairs.doubled;
    map->touching = pairs.touching;
}

/* Each pair is laid to the upper row's float or, in a row, to the float placed later. */
static int64_t row_count_no_room(struct rows *rows, int r)
{
    int below = row_below(rows, r);
    int64_t no_room = 0;

    row_load(rows, r);
    ground_begin(rows);
    if (below >= 0 && !rows->alone)
        ground_add_row(rows, below, 1, 0);
    if (rows->inner_start && rows->crowded)
        ground_add_copies(rows, r, 1, 0);
    for (int i = 0; i < rows->nfloats; i++) {
        const struct caught_float *of = &rows->floats[i];
        const struct catch_mark *mark = rows->mark + of->first_mark;
        bool met = false;

        for (int j = 0; j < of->most; j++)
            if (mark[j].column != NO_COLUMN) {
                met |= rows->ground[mark[j].column] >= rows->key.stack_unit;
                ground_add(rows, mark[j].column, 1, 0);
            }
        no_room += met;
    }
    return no_room;
}

/* The marks of one row, of which `here` are made, by column and then strand: a counting
 * sort, since rows in several yarns are far from sorted. */
struct row_order {
    int64_t *start; /* [ncols + 1] */
    struct catch_mark *mark;
};

static void row_put_in_order(struct rows *rows, struct row_order *order, int64_t first,
                             int64_t nmarks, struct catch_mark *to)
{
    int64_t *start = order->start;

    memset(start, 0, ((size_t)rows->ncols + 1) * sizeof *start);
    for (int64_t i = first; i < first + nmarks; i++)
        if (rows->mark[i].column != NO_COLUMN)
            start[rows->mark[i].column + 1]++;
    for (int c = 0; c < rows->ncols; c++)
        start[c + 1] += start[c];
    for (int64_t i = first; i < first + nmarks; i++) {
        struct catch_mark mark = rows->mark[i];

        if (mark.column != NO_COLUMN)
            order->mark[start[mark.column]++] = mark;
    }
    for (int64_t i = 0; i < start[rows->ncols]; i++) {
        int64_t at = i;

        for (; at > 0 && to[at - 1].column == order->mark[i].column &&
               to[at - 1].strand > order->mark[i].strand;
             at--)
            to[at] = to[at - 1];
        to[at] = order->mark[i];
    }
}

static int64_t widest_row(const struct rows *rows)
{
    int64_t widest = 0;

    for (int r = 0; r < rows->nrows; r++) {
        int64_t nmarks = rows->row_start[r + 1] - rows->row_start[r];

        widest = nmarks > widest ? nmarks : widest;
    }
    return widest;
}

static void rows_put_in_order(struct rows *rows, struct catch_map *map)
{
    struct arena *arena = rows->work->arena;
    struct row_order order;

    order.start = arena_alloc(arena, (size_t)rows->ncols + 1, sizeof *order.start);
    order.mark = arena_alloc(arena, (size_t)widest_row(rows), sizeof *order.mark);
    map->count = 0;
    if (!rows->mark) /* nothing was caught */
        return;
    for (int r = 0; r < rows->nrows; r++) {
        int64_t first = rows->row_start[r];

        row_put_in_order(rows, &order, first, rows->row_start[r + 1] - first,
                         rows->mark + map->count);
        map->count += order.start[rows->ncols];
    }
    map->mark = rows->mark;
}

static void rows_count(const struct rows *rows, struct catch_map *map)
{
    const struct catch_map *inner = rows->cloth->inner;

    for (int64_t i = 0; i < map->count; i++)
        map->count_of[map->mark[i].strand]++;
    for (int64_t i = 0; inner && i < inner->count; i++)
        map->count_of[inner->mark[i].strand] +=
            catches_copies(rows->cloth->repeat, &inner->mark[i], rows->cloth->repeats).count;
    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++)
        map->spares_of[yarn] = map->count_of[yarn] - rows->fewest_of[yarn];
}

const struct catch_map *catches_rows_place(struct work *work, const struct catch_cloth *cloth,
                                           const struct catch_rules *rules)
{
    struct catch_map *map = arena_alloc(work->arena, 1, sizeof *map);
    struct rows rows;

    rows_begin(&rows, work, cloth, rules);
    rows_place(&rows);
    rows_count_pairs(&rows, map);
    if (map->stacked + map->doubled > 0)
        for (int r = 0; r < rows.nrows; r++)
            map->no_room += row_count_no_room(&rows, r);
    rows_put_in_order(&rows, map);
    rows_count(&rows, map);
    return map;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catches_rows.h"

#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "catches_float.h"
#include "catches_order.h"
#include "catches_pairs.h"

/* The times through. Floats that can be caught in one place only go first: they decide, and
 * the others can move aside, which saves about half the spares. Further times change
 * next to nothing. */
enum { TIME_RIGID, TIME_UP, TIME_DOWN, TIME_UP_AGAIN, TIMES_THROUGH };

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
    struct catch_scratch scratch;
    int nrows, ncols;
    bool again; /* row 0 lies above the last row too */

    struct cloth_row row; /* the row being worked on */
    struct float_run *runs;
    struct caught_float *floats;
    int nfloats;
    bool crowded; /* what is caught in the row itself matters: two strands of three or more
                     can meet behind one stitch, or the row lies on itself */
    struct catch_ground ground;
    int *position, *position_spare;

    /* All rows. */
    struct catch_mark *mark;
    int64_t nmarks, capacity;
    int64_t *row_start; /* [nrows + 1] */
    int rows_known;
    int64_t fewest_of[GRID_YARNS_MAX];
    struct cloth_copies copies;
};

static void rows_begin(struct rows *rows, struct work *work, const struct catch_cloth *cloth,
                       const struct catch_rules *rules)
{
    struct arena *arena = work->arena;
    size_t ncols;

    *rows = (struct rows){.work = work, .cloth = cloth, .rules = rules};
    rows->nrows = cloth->repeat->nrows;
    rows->ncols = cloth_ncols(cloth);
    rows->again = rules->again_above && rows->nrows > 0;
    rows->ground = (struct catch_ground){
        .at = arena_alloc(arena, (size_t)rows->ncols, sizeof *rows->ground.at),
        .ncols = rows->ncols,
        .ring = cloth->ends == FLOATS_RING,
        .alone = rows->again && rows->nrows == 1,
        .stagger_cols = rules->stagger_cols,
        .key = catches_key(rules, rows->ncols, cloth_nyarns(cloth)),
    };
    rows->scratch = catches_scratch(arena, rows->ncols);

    ncols = (size_t)rows->ncols;
    rows->row = cloth_row_room(arena, cloth);
    rows->runs = arena_alloc(arena, ncols + 2 * GRID_YARNS_MAX, sizeof *rows->runs);
    rows->floats = arena_alloc(arena, ncols + 2 * GRID_YARNS_MAX, sizeof *rows->floats);
    rows->position = arena_alloc(arena, ncols + 1, sizeof *rows->position);
    rows->position_spare = arena_alloc(arena, ncols + 1, sizeof *rows->position_spare);
    rows->row_start = arena_alloc(arena, (size_t)rows->nrows + 1, sizeof *rows->row_start);
    rows->copies = cloth_copies(arena, cloth);
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

/* Whether two strands can meet behind a stitch of a third yarn. Turned edges leave the yarn
 * of that stitch perhaps without a float. */
static bool is_crowded(uint64_t yarns_with_floats, enum float_ends ends)
{
    uint64_t but_one = yarns_with_floats & (yarns_with_floats - 1);

    return ends == FLOATS_TURN ? but_one != 0 : (but_one & (but_one - 1)) != 0;
}

/* The floats of row r that are to be caught, in the order of placing. Returned: the end of
 * their marks. */
static int64_t row_load(struct rows *rows, int r)
{
    enum float_ends ends = rows->cloth->ends;
    bool first_time = r >= rows->rows_known;
    int64_t mark = rows->row_start[r];
    uint64_t yarns = 0;
    int nruns;

    cloth_row_read(rows->cloth, r, &rows->row);
    nruns = floats_of_row(rows->row.yarn_of, rows->row.nstitches, ends, rows->runs);
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
        if (cloth_is_copied(rows->cloth, &rows->row, run))
            continue;
        mark += to->most;
        rows->nfloats++;
    }
    rows->crowded = is_crowded(yarns, ends) || rows->ground.alone;
    row_set_order(rows);
    return mark;
}

static void ground_add_copies(struct rows *rows, int r, int stacks, int nears)
{
    for (int64_t i = rows->copies.start[r]; i < rows->copies.start[r + 1]; i++)
        catch_ground_add(&rows->ground, rows->copies.column[i], stacks, nears);
}

static void ground_add_row(struct rows *rows, int r, int stacks, int nears)
{
    ground_add_copies(rows, r, stacks, nears);
    if (r >= rows->rows_known)
        return;
    for (int64_t i = rows->row_start[r]; i < rows->row_start[r + 1]; i++)
        if (rows->mark[i].column != CATCH_NO_COLUMN)
            catch_ground_add(&rows->ground, rows->mark[i].column, stacks, nears);
}

static void ground_add_row_here(struct rows *rows, int r)
{
    for (int64_t i = rows->copies.start[r]; i < rows->copies.start[r + 1]; i++)
        catch_ground_add_here(&rows->ground, rows->copies.column[i], 1);
    if (r >= rows->rows_known)
        return;
    for (int64_t i = rows->row_start[r]; i < rows->row_start[r + 1]; i++)
        if (rows->mark[i].column != CATCH_NO_COLUMN)
            catch_ground_add_here(&rows->ground, rows->mark[i].column, 1);
}

static int row_below(const struct rows *rows, int r)
{
    return r > 0 ? r - 1 : rows->again ? rows->nrows - 1 : -1;
}

static int row_above(const struct rows *rows, int r)
{
    return r < rows->nrows - 1 ? r + 1 : rows->again ? 0 : -1;
}

static void ground_set(struct rows *rows, int r)
{
    int below = row_below(rows, r), above = row_above(rows, r);

    catch_ground_clear(&rows->ground);
    if (below >= 0 && !rows->ground.alone)
        ground_add_row(rows, below, 1, 1);
    if (above >= 0 && !rows->ground.alone)
        ground_add_row(rows, above, 1, 1);
    if (rows->crowded)
        ground_add_row_here(rows, r);
}

static uint64_t best_places(struct rows *rows, const struct catch_float *span, int ncatches,
                            int *position)
{
    if (catches_float_even(&rows->ground.key, span, rows->ground.at, ncatches, position))
        return 0;
    return catches_float_place(&rows->ground.key, span, rows->ground.at, ncatches, position,
                               &rows->scratch);
}

/* Returned: how many catches; *position: where. */
static int float_choose(struct rows *rows, const struct caught_float *of, const int **position)
{
    struct catch_float span = {rows->row.column + of->from + 1, of->span_sts};
    uint64_t key = best_places(rows, &span, of->fewest, rows->position);

    *position = rows->position;
    if (key < rows->ground.key.stack_unit || of->most == of->fewest)
        return of->fewest;
    if (best_places(rows, &span, of->most, rows->position_spare) / rows->ground.key.stack_unit >=
        key / rows->ground.key.stack_unit)
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
        if (mark[i].column != CATCH_NO_COLUMN)
            catch_ground_add_here(&rows->ground, mark[i].column, -1);
    ncatches = float_choose(rows, of, &position);
    for (int i = 0; i < of->most; i++) {
        int column = i < ncatches ? rows->row.column[of->from + position[i]] : CATCH_NO_COLUMN;

        moved |= column != mark[i].column;
        mark[i].column = column;
        if (column == CATCH_NO_COLUMN)
            continue;
        mark[i].behind = rows->row.cells[column];
        mark[i].row = (uint16_t)r;
        mark[i].strand = of->yarn;
        if (rows->crowded)
            catch_ground_add_here(&rows->ground, column, 1);
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

static bool row_place(struct rows *rows, int r, bool rigid_only)
{
    int64_t end = row_load(rows, r);
    bool moved = false;

    if (r >= rows->rows_known) {
        marks_reserve(rows, end);
        for (int64_t i = rows->nmarks; i < end; i++)
            rows->mark[i].column = CATCH_NO_COLUMN;
        rows->nmarks = rows->row_start[r + 1] = end;
    }
    if (rows->nfloats > 0)
        ground_set(rows, r);
    for (int i = 0; i < rows->nfloats; i++)
        if (!rigid_only || rows->floats[i].room_sts == 0)
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
            int r = time == TIME_DOWN ? rows->nrows - 1 - i : i;

            if (time > TIME_UP && !row_is_due(rows, &progress, r))
                continue;
            progress.done[r] = ++progress.step;
            if (row_place(rows, r, time == TIME_RIGID))
                progress.moved[r] = progress.step;
        }
    }
}

static void count_row(struct rows *rows, int r, struct catch_pairs *pairs,
                      void (*add)(struct catch_pairs *, int))
{
    for (int64_t i = rows->row_start[r]; i < rows->row_start[r + 1]; i++)
        if (rows->mark[i].column != CATCH_NO_COLUMN)
            add(pairs, rows->mark[i].column);
    for (int64_t i = rows->copies.start[r]; i < rows->copies.start[r + 1]; i++)
        add(pairs, rows->copies.column[i]);
}

static void rows_count_pairs(struct rows *rows, struct catch_map *map)
{
    struct catch_pairs pairs = catch_pairs_begin(rows->work->arena, rows->ncols, rows->ground.ring);

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

static void rows_count(const struct rows *rows, struct catch_map *map)
{
    for (int64_t i = 0; i < map->count; i++)
        map->count_of[map->mark[i].strand]++;
    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++) {
        map->count_of[yarn] += rows->copies.count_of[yarn];
        map->spares_of[yarn] = map->count_of[yarn] - rows->fewest_of[yarn];
    }
}

const struct catch_map *catches_rows_place(struct work *work, const struct catch_cloth *cloth,
                                           const struct catch_rules *rules)
{
    struct catch_map *map = arena_alloc(work->arena, 1, sizeof *map);
    struct rows rows;

    rows_begin(&rows, work, cloth, rules);
    rows_place(&rows);
    rows_count_pairs(&rows, map);
    map->count =
        catches_put_in_order(work->arena, rows.mark, rows.row_start, rows.nrows, rows.ncols);
    map->mark = rows.mark;
    rows_count(&rows, map);
    return map;
}

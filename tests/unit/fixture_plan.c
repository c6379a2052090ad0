/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fixture_plan.h"

#include <math.h>
#include <string.h>

#include "app/disk.h"
#include "base/arena.h"
#include "base/diag.h"
#include "base/tables.h"

struct work fixture_plan_work(void)
{
    struct work work = {.arena = arena_create((size_t)1 << 28), .outside = &disk};

    work.diagnostics = diagnostics_create(work.arena);
    work.tables = tables_load(&work);
    return work;
}

static uint8_t yarn_of(char mark)
{
    static const char marks[] = ".xo";

    return mark == '-' ? GRID_NO_STITCH : (uint8_t)(strchr(marks, mark) - marks);
}

struct grid fixture_grid(struct work *work, const char *const *rows)
{
    struct grid grid = {0, (int)strlen(rows[0]), NULL};
    uint8_t *cell;

    while (rows[grid.nrows])
        grid.nrows++;
    cell = arena_alloc(work->arena, (size_t)(grid.nrows * grid.ncols), 1);
    for (int r = 0; r < grid.nrows; r++)
        for (int c = 0; c < grid.ncols; c++)
            cell[r * grid.ncols + c] = yarn_of(rows[grid.nrows - 1 - r][grid.ncols - 1 - c]);
    grid.cell = cell;
    return grid;
}

/* Coral is sewn on over cream. */
static struct grid knitted(struct work *work, struct grid drawn)
{
    size_t n = (size_t)(drawn.nrows * drawn.ncols);
    uint8_t *cell;

    if (n == 0 || !memchr(drawn.cell, FIXTURE_CORAL, n))
        return drawn;
    cell = arena_alloc(work->arena, n, 1);
    for (size_t i = 0; i < n; i++)
        cell[i] = drawn.cell[i] == FIXTURE_CORAL ? FIXTURE_CREAM : drawn.cell[i];
    drawn.cell = cell;
    return drawn;
}

const struct catch_map *fixture_catches(struct work *work, const struct fixture_catch *catches,
                                        int count)
{
    struct catch_map *map = arena_alloc(work->arena, 1, sizeof *map);
    struct catch_mark *marks = arena_alloc(work->arena, (size_t)count, sizeof *marks);

    for (int i = 0; i < count; i++) {
        marks[i] = (struct catch_mark){.column = catches[i].column - 1,
                                       .row = (uint16_t)(catches[i].row - 1),
                                       .strand = (uint8_t)catches[i].strand};
        map->count_of[catches[i].strand]++;
    }
    map->mark = marks;
    map->count = count;
    return map;
}

static void name_yarns(struct work *work, struct plan_piece *piece)
{
    static const char *const names[FIXTURE_YARNS] = {"cream", "slate", "coral"};

    piece->nyarns = FIXTURE_YARNS;
    piece->yarns = arena_alloc(work->arena, FIXTURE_YARNS, sizeof *piece->yarns);
    for (int i = 0; i < FIXTURE_YARNS; i++) {
        piece->yarns[i].name = names[i];
        piece->yarns[i].over = i == FIXTURE_CORAL ? FIXTURE_CREAM : -1;
        piece->yarns[i].knitted = i != FIXTURE_CORAL;
        piece->yarns[i].grams = (double)NAN;
    }
}

static void set_gauge(struct plan_gauge *gauge, double per_in, double rows_per_in)
{
    *gauge = (struct plan_gauge){.measured = true,
                                 .per_in = per_in,
                                 .rows_per_in = rows_per_in,
                                 .stitch_width_mm = 25.4 / per_in,
                                 .row_height_mm = 25.4 / rows_per_in,
                                 .round = true,
                                 .washed = true};
}

struct plan *fixture_plan(struct work *work, const char *const *rows, int repeats, bool round)
{
    struct plan *plan = arena_alloc(work->arena, 1, sizeof *plan);
    struct plan_band *band = arena_alloc(work->arena, 1, sizeof *band);

    plan->title = "";
    plan->project_name = "ripple.ini";
    plan->make = 1;
    plan->round = round;
    set_gauge(&plan->piece.gauge, 8.0, 9.5);
    name_yarns(work, &plan->piece);
    plan->piece.bands = band;
    plan->piece.nbands = 1;
    band->name = "ripple";
    band->chart_name = "ripple.chart";
    band->drawn = fixture_grid(work, rows);
    band->knitted = knitted(work, band->drawn);
    band->repeat_sts = band->drawn.ncols;
    band->rows = band->drawn.nrows;
    band->upwards = 1;
    band->repeats = repeats;
    band->stitches = band->stitches_on_needle = repeats * band->repeat_sts;
    band->first_round = 1;
    band->catches = fixture_catches(work, NULL, 0);
    return plan;
}

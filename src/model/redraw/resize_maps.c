/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A start as a knitter would make one: whole columns and rows of the old chart doubled or left
 * out. Which, is found by dynamic programming, columns and rows in turn: each new column shows an
 * old one near its true place, in order; where there are more new ones every old one is shown,
 * where there are fewer none is shown twice. Lines and parts then stay as they were, as far as
 * all their columns and rows are there.
 */
#include <string.h>

#include "resize_internal.h"

enum { REACH = 2, SHIFTS = 2 * REACH + 1, TURNS = 3 };

/* One direction being mapped. */
struct map {
    const struct resize_axis *axis;
    int *at;         /* [nnew] old square shown, counted on beyond the ring */
    int64_t *cost;   /* [nnew * SHIFTS] */
    int64_t *sum;    /* the same, least so far */
    int8_t *from;    /* the same, shift of the one before */
    int most, least; /* steps allowed from one to the next */
    bool ring;
};

/* The old square under the middle of a new one, counted on beyond the ring. */
static int middle(const struct map *map, int i)
{
    const struct resize_axis *axis = map->axis;
    int64_t half = axis->nold, past = 0;
    int j = 0;

    while (past + axis->weight[i * axis->stride + j] <= half && j + 1 < axis->count[i])
        past += axis->weight[i * axis->stride + j++];
    j += axis->first[i];
    /* the first new square may begin before the ring does */
    if (i < (axis->nnew + 1) / 2 && j > axis->nold / 2 + (int)((int64_t)i * axis->nold / axis->nnew))
        j -= axis->nold;
    if (i > axis->nnew / 2 && j < (int)((int64_t)i * axis->nold / axis->nnew) - axis->nold / 2)
        j += axis->nold;
    return j;
}

static struct map map_make(struct arena *arena, const struct resize_axis *axis, bool ring)
{
    struct map map = {.axis = axis, .ring = ring};
    size_t n = (size_t)axis->nnew;

    map.at = arena_alloc(arena, n, sizeof *map.at);
    map.cost = arena_alloc(arena, n * SHIFTS, sizeof *map.cost);
    map.sum = arena_alloc(arena, n * SHIFTS, sizeof *map.sum);
    map.from = arena_alloc(arena, n * SHIFTS, 1);
    map.least = axis->nnew >= axis->nold ? 0 : 1;
    map.most = axis->nnew >= axis->nold ? 1 : (axis->nold + axis->nnew - 1) / axis->nnew + 1;
    for (int i = 0; i < axis->nnew; i++)
        map.at[i] = middle(&map, i);
    return map;
}

static int old_of(const struct map *map, int at)
{
    int rest = at % map->axis->nold;

    return rest < 0 ? rest + map->axis->nold : rest;
}

static bool stands(const struct map *map, int at)
{
    return map->ring || (at >= 0 && at < map->axis->nold);
}

static int64_t shown_cost(const struct resize_frame *frame, int c, int r, int old_c, int old_r)
{
    return frame->cost[(size_t)(r * frame->ncols + c) * (size_t)frame->ncolours +
                       frame->old.cell[old_r * frame->old.ncols + old_c]];
}

static void costs_fill(const struct resize_frame *frame, struct map *map, const struct map *other,
                       bool along)
{
    for (int i = 0; i < map->axis->nnew; i++)
        for (int s = 0; s < SHIFTS; s++) {
            int at = middle(map, i) + s - REACH, old = old_of(map, at);
            int64_t cost = 0;

            if (!stands(map, at)) {
                map->cost[i * SHIFTS + s] = INT64_MAX / 4;
                continue;
            }
            for (int j = 0; j < other->axis->nnew; j++)
                cost += along ? shown_cost(frame, i, j, old, old_of(other, other->at[j]))
                              : shown_cost(frame, j, i, old_of(other, other->at[j]), old);
            map->cost[i * SHIFTS + s] = cost;
        }
}

/* The least map whose first shift is given; at is filled where it is less than most. */
static int64_t map_from(struct map *map, int first, int64_t least_yet)
{
    int n = map->axis->nnew, end = -1;
    int64_t least = least_yet;

    for (int i = 0; i < n * SHIFTS; i++)
        map->sum[i] = INT64_MAX / 2;
    map->sum[first] = map->cost[first];
    for (int i = 1; i < n; i++)
        for (int s = 0; s < SHIFTS; s++)
            for (int before = 0; before < SHIFTS; before++) {
                int step = middle(map, i) + s - middle(map, i - 1) - before;
                int64_t sum = map->sum[(i - 1) * SHIFTS + before] + map->cost[i * SHIFTS + s];

                if (step >= map->least && step <= map->most && sum < map->sum[i * SHIFTS + s]) {
                    map->sum[i * SHIFTS + s] = sum;
                    map->from[i * SHIFTS + s] = (int8_t)before;
                }
            }
    for (int s = 0; s < SHIFTS; s++) {
        int step = middle(map, 0) + first + map->axis->nold - middle(map, n - 1) - s;
        bool closes = !map->ring || (step >= map->least && step <= map->most);

        if (closes && map->sum[(n - 1) * SHIFTS + s] < least) {
            least = map->sum[(n - 1) * SHIFTS + s];
            end = s;
        }
    }
    for (int i = n - 1; end >= 0 && i >= 0; i--) {
        map->at[i] = middle(map, i) + end - REACH;
        end = i > 0 ? map->from[i * SHIFTS + end] : -1;
    }
    return least;
}

static void map_improve(const struct resize_frame *frame, struct map *map, const struct map *other,
                        bool along)
{
    int64_t least = INT64_MAX / 4;

    costs_fill(frame, map, other, along);
    for (int first = 0; first < SHIFTS; first++)
        least = map_from(map, first, least);
}

void resize_maps_start(const struct resize_frame *frame, uint8_t *cell)
{
    struct map columns = map_make(frame->work->arena, &frame->x, true);
    struct map rows = map_make(frame->work->arena, &frame->y, frame->ring);

    for (int turn = 0; turn < TURNS; turn++) {
        map_improve(frame, &columns, &rows, true);
        map_improve(frame, &rows, &columns, false);
    }
    for (int i = 0; i < frame->ncells; i++) {
        int from = frame->orbit_cell[frame->orbit_start[frame->orbit_of[i]]];
        int old_c = old_of(&columns, columns.at[from % frame->ncols]);
        int old_r = old_of(&rows, rows.at[from / frame->ncols]);

        cell[i] = frame->old.cell[old_r * frame->old.ncols + old_c];
    }
}

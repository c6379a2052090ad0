/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "resize.h"

#include <string.h>

#include "resize_internal.h"

enum {
    STARTS = 3,
    STARTS_LARGE = 2,      /* on a chart of LARGE stitches: longer ones instead */
    LARGE = 8000,
    STARTS_MORE = 12,      /* where something is still wrong, on a chart of up to so many stitches: */
    MORE_FOR_STITCHES = 140,
    STALE = 4,             /* starts that find nothing better: the end */
    REACH_PART = 6
};

void resize_counts(const struct grid *old, bool rows_are_ring, struct rational exact_cols,
                   struct rational exact_rows, int *ncols, int *nrows)
{
    const struct rational reach = rational_make(1, REACH_PART);
    struct motif motif = motif_find(old, rows_are_ring);
    int columns = motif_count_near(&motif, true, old->ncols, exact_cols, reach);
    int rows = motif_count_near(&motif, false, old->nrows, exact_rows, reach);
    struct motif_line line;

    *ncols = columns > 0 ? columns : motif_count_middle(&motif, true, old->ncols, exact_cols);
    *nrows = rows > 0 ? rows : motif_count_middle(&motif, false, old->nrows, exact_rows);
    if (columns > 0 && rows == 0) { /* no width is given for what the rows cannot hold */
        line = motif_line_of(&motif, false, old->nrows, *nrows);
        *ncols = motif_count_needed(&motif, true, old->ncols, exact_cols, reach, line.keeps);
    } else if (rows > 0 && columns == 0) {
        line = motif_line_of(&motif, true, old->ncols, *ncols);
        *nrows = motif_count_needed(&motif, false, old->nrows, exact_rows, reach, line.keeps);
    }
}

struct resize_frame *resize_begin(struct work *work, const struct resize_question *question,
                                  struct resize_answer *answer)
{
    const struct grid *old = question->old;

    answer->motif = motif_find(old, question->rows_are_ring);
    answer->columns = motif_line_of(&answer->motif, true, old->ncols, question->ncols);
    answer->rows = motif_line_of(&answer->motif, false, old->nrows, question->nrows);
    for (int i = 0; i < answer->motif.nmoves; i++)
        answer->keeps[i] = answer->columns.keeps[i] && answer->rows.keeps[i];
    return resize_frame_make(work, question, &answer->motif, &answer->columns, &answer->rows,
                             answer->keeps);
}

int resize_faults_of_drawing(const struct resize_faults *faults)
{
    return faults->lines + faults->split + faults->joined + faults->lost;
}

int64_t resize_faults_weight(const struct resize_faults *faults)
{
    return 4 * (int64_t)resize_faults_of_drawing(faults) - faults->holes + 2 * (int64_t)faults->floats;
}

/* Nothing is wrong and it is near the bound: no need to begin again. */
static bool is_good(const struct resize_frame *frame, const struct resize_faults *faults, int64_t area)
{
    return resize_faults_weight(faults) == 0 &&
           (area * 20 <= frame->bound * 21 || (area - frame->bound) * 200 <= frame->square * frame->ncells);
}

static int starts_most(const struct resize_frame *frame)
{
    int most = STARTS_MORE * MORE_FOR_STITCHES / frame->ncells;

    if (frame->ncells >= LARGE)
        return STARTS_LARGE;
    return most > STARTS_MORE ? STARTS_MORE : most < STARTS ? STARTS : most;
}

/* No chart can be better. */
static bool is_best(const struct resize_frame *frame, const struct resize_faults *faults, int64_t area)
{
    return resize_faults_weight(faults) == 0 && resize_faults_small(frame, faults) == 0 && area == frame->bound;
}

/* Every orbit in the colour of least cost. */
static void start_from_bound(const struct resize_frame *frame, uint8_t *cell)
{
    for (int i = 0; i < frame->ncells; i++)
        cell[i] = frame->best[frame->orbit_cell[frame->orbit_start[frame->orbit_of[i]]]];
}

/* The old square under the middle of a new one. */
static int middle_of(const struct resize_axis *axis, int number)
{
    int64_t past = 0;
    int k = 0;

    while (k + 1 < axis->count[number] && past + axis->weight[number * axis->stride + k] <= axis->nold)
        past += axis->weight[number * axis->stride + k++];
    return (axis->first[number] + k) % axis->nold;
}

/* Whole columns and rows of the old chart doubled or left out: lines and parts that have all of theirs stay. */
static void start_from_middles(const struct resize_frame *frame, uint8_t *cell)
{
    for (int i = 0; i < frame->ncells; i++) {
        int at = frame->orbit_cell[frame->orbit_start[frame->orbit_of[i]]];

        cell[i] = frame->old.cell[middle_of(&frame->y, at / frame->shape.ncols) * frame->old.ncols +
                                  middle_of(&frame->x, at % frame->shape.ncols)];
    }
}

/* From one start after the other; the best of all, judged. */
static void search_all(struct resize_state *state)
{
    const struct resize_frame *frame = state->frame;
    uint8_t *best = arena_alloc(frame->work->arena, (size_t)frame->ncells, 1);
    struct resize_faults best_faults = {0};
    int64_t best_area = -1;
    int most = starts_most(frame), found_at = 0;

    for (int start = 0; start < most && start - found_at <= STALE; start++) {
        int64_t area;

        if (start > 0 && is_best(frame, &best_faults, best_area))
            break;
        if (start >= STARTS && is_good(frame, &best_faults, best_area))
            break;
        if (start % 2 == 0)
            start_from_bound(frame, state->cell);
        else
            start_from_middles(frame, state->cell);
        resize_search(state, (uint64_t)start);
        area = resize_frame_area(frame, state->cell);
        if (best_area < 0 || resize_is_better(frame, &state->faults, area, &best_faults, best_area)) {
            best_area = area;
            best_faults = state->faults;
            found_at = start;
            memcpy(best, state->cell, (size_t)frame->ncells);
        }
    }
    memcpy(state->cell, best, (size_t)frame->ncells);
    resize_state_judge(state);
}

const struct resize_answer *resize_chart(struct work *work, const struct resize_question *question)
{
    struct resize_answer *answer = arena_alloc(work->arena, 1, sizeof *answer);
    struct resize_frame *frame = resize_begin(work, question, answer);
    struct resize_state *state = resize_state_make(frame, arena_alloc(work->arena, (size_t)frame->ncells, 1));

    search_all(state);
    resize_look_over(state, answer);
    return answer;
}

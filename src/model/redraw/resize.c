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

/* A move is kept where both directions keep it. */
static void keeps_both(struct resize_answer *answer)
{
    for (int i = 0; i < answer->motif.nmoves; i++)
        answer->keeps[i] = answer->columns.keeps[i] && answer->rows.keeps[i];
}

static struct resize_frame *begin(struct work *work, const struct resize_question *question,
                                  struct resize_answer *answer)
{
    const struct grid *old = question->old;

    answer->motif = motif_find(old, question->rows_are_ring);
    answer->columns = motif_line_of(&answer->motif, true, old->ncols, question->ncols);
    answer->rows = motif_line_of(&answer->motif, false, old->nrows, question->nrows);
    keeps_both(answer);
    return resize_frame_make(work, question, &answer->motif, &answer->columns, &answer->rows,
                             answer->keeps);
}

/* Every orbit in the colour of least cost. */
static void start_from_bound(const struct resize_frame *frame, uint8_t *cell)
{
    for (int i = 0; i < frame->ncells; i++)
        cell[i] = frame->best[frame->orbit_cell[frame->orbit_start[frame->orbit_of[i]]]];
}

static uint8_t *yarns_of(const struct resize_frame *frame, const uint8_t *cell)
{
    uint8_t *yarns = arena_alloc(frame->work->arena, (size_t)frame->ncells, 1);

    for (int i = 0; i < frame->ncells; i++)
        yarns[i] = frame->yarn[cell[i]];
    return yarns;
}

static bool is_recognisable(const struct resize_frame *frame, const struct resize_faults *faults, int64_t area)
{
    int64_t drawn = 0; /* area that is not ground */

    for (int i = 0; i < frame->old.ncols * frame->old.nrows; i++)
        drawn += frame->old.cell[i] != frame->ground ? 4 * (int64_t)frame->ncells : 0;
    return 2 * faults->lines <= frame->nlinks_all && 2 * (faults->joined + faults->lost) <= frame->nparts &&
           (area < drawn || drawn == 0);
}

static void answer_fill(struct resize_answer *answer, struct resize_frame *frame,
                        struct resize_judge_room *room, const uint8_t *cell)
{
    uint8_t *broken_row = arena_alloc(frame->work->arena, (size_t)frame->old.nrows, 1);
    uint8_t *broken_column = arena_alloc(frame->work->arena, (size_t)frame->old.ncols, 1);

    answer->faults = resize_frame_judge(frame, room, cell);
    resize_hurt_find(frame, room, cell, broken_row, broken_column);
    answer->area = resize_frame_area(frame, cell);
    answer->recognisable = is_recognisable(frame, &answer->faults, answer->area);
    answer->bound = frame->bound;
    answer->square = frame->square;
    answer->chart = (struct grid){frame->nrows, frame->ncols, yarns_of(frame, cell)};
    answer->broken_row = broken_row;
    answer->broken_column = broken_column;
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

/* From one start after the other; the best of all. */
static void search_all(struct resize_frame *frame, struct resize_judge_room *room, uint8_t *best)
{
    uint8_t *cell = arena_alloc(frame->work->arena, (size_t)frame->ncells, 1);
    struct resize_faults best_faults = {0}, faults;
    int64_t best_area = -1;
    int most = starts_most(frame), found_at = 0;

    for (int start = 0; start < most && start - found_at <= STALE; start++) {
        int64_t area;

        if (start > 0 && is_best(frame, &best_faults, best_area))
            break;
        if (start >= STARTS && is_good(frame, &best_faults, best_area))
            break;
        start_from_bound(frame, cell);
        if (start % 2 == 1)
            resize_maps_start(frame, cell);
        resize_search(frame, room, cell, (uint64_t)start);
        faults = resize_frame_judge(frame, room, cell);
        area = resize_frame_area(frame, cell);
        if (best_area < 0 || resize_is_better(frame, &faults, area, &best_faults, best_area)) {
            best_area = area;
            best_faults = faults;
            found_at = start;
            memcpy(best, cell, (size_t)frame->ncells);
        }
    }
}

const struct resize_answer *resize_chart(struct work *work, const struct resize_question *question)
{
    struct resize_answer *answer = arena_alloc(work->arena, 1, sizeof *answer);
    struct resize_frame *frame = begin(work, question, answer);
    struct resize_judge_room *room = resize_judge_room_make(frame);
    uint8_t *best = arena_alloc(work->arena, (size_t)frame->ncells, 1);

    search_all(frame, room, best);
    answer_fill(answer, frame, room, best);
    return answer;
}

void resize_judge(struct work *work, const struct resize_question *question, const uint8_t *cell,
                  struct resize_faults *faults, int64_t *area)
{
    struct resize_answer scratch = {0};
    struct resize_frame *frame = begin(work, question, &scratch);
    struct resize_judge_room *room = resize_judge_room_make(frame);
    uint8_t *colours = arena_alloc(work->arena, (size_t)frame->ncells, 1);

    for (int i = 0; i < frame->ncells; i++)
        for (int k = 0; k < frame->ncolours; k++)
            if (frame->yarn[k] == cell[i])
                colours[i] = (uint8_t)k;
    *faults = resize_frame_judge(frame, room, colours);
    *area = resize_frame_area(frame, colours);
}

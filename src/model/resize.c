/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "resize.h"

#include <string.h>

#include "resize_internal.h"

enum { STARTS = 3, REACH_PART = 6 };

static int count_for(const struct motif *motif, bool along, int old_count, struct rational exact)
{
    int count = motif_count_near(motif, along, old_count, exact, rational_make(1, REACH_PART));

    return count > 0 ? count : motif_count_middle(motif, along, old_count, exact);
}

void resize_counts(const struct grid *old, bool rows_are_ring, struct rational exact_cols,
                   struct rational exact_rows, int *ncols, int *nrows)
{
    struct motif motif = motif_find(old, rows_are_ring);

    *ncols = count_for(&motif, true, old->ncols, exact_cols);
    *nrows = count_for(&motif, false, old->nrows, exact_rows);
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

static void answer_fill(struct resize_answer *answer, struct resize_frame *frame,
                        struct resize_judge_room *room, const uint8_t *cell)
{
    uint8_t *broken_row = arena_alloc(frame->work->arena, (size_t)frame->old.nrows, 1);

    room->old_row_hurt = broken_row;
    answer->faults = resize_frame_judge(frame, room, cell);
    room->old_row_hurt = NULL;
    answer->area = resize_frame_area(frame, cell);
    answer->bound = frame->bound;
    answer->square = frame->square;
    answer->chart = (struct grid){frame->nrows, frame->ncols, yarns_of(frame, cell)};
    answer->true_colour = yarns_of(frame, frame->best);
    answer->broken_row = broken_row;
}

const struct resize_answer *resize_chart(struct work *work, const struct resize_question *question)
{
    struct resize_answer *answer = arena_alloc(work->arena, 1, sizeof *answer);
    struct resize_frame *frame = begin(work, question, answer);
    struct resize_judge_room *room = resize_judge_room_make(frame);
    size_t n = (size_t)frame->ncells;
    uint8_t *cell = arena_alloc(work->arena, n, 1), *best = arena_alloc(work->arena, n, 1);
    struct resize_faults best_faults = {0};
    int64_t best_area = -1;

    for (int start = 0; start < STARTS; start++) {
        struct resize_faults faults;
        int64_t area;

        start_from_bound(frame, cell);
        if (start % 2 == 1)
            resize_maps_start(frame, cell);
        resize_search(frame, room, cell, (uint64_t)start + 1);
        faults = resize_frame_judge(frame, room, cell);
        area = resize_frame_area(frame, cell);
        if (best_area < 0 || resize_is_better(frame, &faults, area, &best_faults, best_area)) {
            best_area = area;
            best_faults = faults;
            memcpy(best, cell, n);
        }
    }
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

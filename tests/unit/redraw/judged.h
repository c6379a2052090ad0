/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Any chart of the new size as an answer to the question, for tests and the benchmark.
 */
#ifndef STRANDWISE_TEST_JUDGED_H
#define STRANDWISE_TEST_JUDGED_H

#include "model/redraw/resize_internal.h"

static inline struct resize_state *judged_state(struct work *work, const struct resize_question *question,
                                                const uint8_t *cell, struct resize_answer *answer)
{
    struct resize_frame *frame = resize_begin(work, question, answer);
    uint8_t *colours = arena_alloc(work->arena, (size_t)frame->ncells, 1);
    struct resize_state *state = resize_state_make(frame, colours);

    for (int i = 0; i < frame->ncells; i++)
        for (int k = 0; k < frame->ncolours; k++)
            if (frame->yarn[k] == cell[i])
                colours[i] = (uint8_t)k;
    resize_state_judge(state);
    return state;
}

/* Its faults and its area. */
static inline void judge_chart(struct work *work, const struct resize_question *question, const uint8_t *cell,
                               struct resize_faults *faults, int64_t *area)
{
    struct resize_answer answer = {0};
    const struct resize_state *state = judged_state(work, question, cell, &answer);

    *faults = state->faults;
    *area = resize_frame_area(state->frame, state->cell);
}

#endif

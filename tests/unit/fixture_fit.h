/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A question for the ways round a repeat, and one of its answers.
 */
#ifndef STRANDWISE_FIXTURE_FIT_H
#define STRANDWISE_FIXTURE_FIT_H

#include <CUnit/CUnit.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "words/remedy.h"

static inline struct work new_work(void)
{
    return (struct work){.arena = arena_create((size_t)1 << 28)};
}

static inline struct rational r(int64_t num, int64_t den)
{
    return rational_make(num, den);
}

/* The ways round, in words: those of the answer. */
static inline const struct fit_remedy *ways_round(struct work *work, const struct fit_question *question,
                                                  int *count)
{
    struct fit_answer *answer = fit_answer(work, question);

    remedy_name(work, answer);
    remedy_say(work, answer);
    *count = answer->count;
    return answer->remedies;
}

/* Remedy number `which` (from 0) of a kind; NULL: there are not so many. */
static inline const struct fit_remedy *find(const struct fit_remedy *remedies, int count,
                                     enum fit_kind kind, int which)
{
    for (int i = 0; i < count; i++)
        if (remedies[i].kind == kind && which-- == 0)
            return &remedies[i];
    return NULL;
}

/* A reach of 6 %, near enough within 1 %, far beyond 10 %, redrawn by a sixth, inches first. */
#define QUESTION(target, gauge, repeat, sides, in_round, band_chart)                               \
    (struct fit_question)                                                                         \
    {                                                                                             \
        .target_sts = (target), .per_in = (gauge), .repeat_sts = (repeat), .side_sts = (sides),    \
        .round = (in_round), .gauge_reach = 0.06, .near_ratio = 0.01, .far_ratio = 0.1,             \
        .redraw_ratio = 0.1667, .chart = (band_chart)                                             \
    }
#define SAYS(remedy, words) CU_ASSERT_PTR_NOT_NULL(strstr((remedy)->line, words))

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fit_counts.h"

#include "model/gauge/sizing.h"

enum { SHARERS_MOST = 30 };

int64_t fit_counts_around(const struct fit_question *question, int width, int64_t *below, int64_t *above)
{
    int nshared = question->nshared < SHARERS_MOST ? question->nshared : SHARERS_MOST;
    struct together_rule rules[SHARERS_MOST + 1] = {{width, question->side_sts, -1}};
    int64_t step, rest[TOGETHER_RESIDUES], least = question->side_sts + (int64_t)width;
    int nrests;

    for (int i = 0; i < nshared; i++) {
        const struct together_rule *rule = &question->shared[i];

        rules[i + 1] = (struct together_rule){rule->multiple, rule->plus, -1};
        least = rule->multiple + rule->plus > least ? rule->multiple + rule->plus : least;
    }
    step = together_agree(rules, nshared + 1, rest, &nrests);
    if (step < 1 || step > INT32_MAX || nrests < 1)
        return 0;
    *below = sizing_multiple_below(question->target_sts, step, rest[0]);
    *above = rest[0]; /* itself such a count, if a motif goes in */
    if (rational_compare(rational_whole(rest[0]), question->target_sts) <= 0)
        *above = sizing_multiple_above(question->target_sts, step, rest[0]);
    if (*below < least)
        *below = 0;
    if (*above < least)
        *above += (least - *above + step - 1) / step * step;
    return step;
}

bool fit_suits_shared(const struct fit_question *question, int64_t stitches)
{
    for (int i = 0; i < question->nshared; i++) {
        int64_t repeats_sts = stitches - question->shared[i].plus;

        if (repeats_sts < question->shared[i].multiple || repeats_sts % question->shared[i].multiple != 0)
            return false;
    }
    return true;
}

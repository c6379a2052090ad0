/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Counts solved together: worked yokes, and every small instance against all sets there are.
 */
#include <CUnit/CUnit.h>
#include <stdlib.h>

#include "base/arena.h"
#include "base/work.h"
#include "model/gauge/shaping.h"
#include "model/fit/together.h"

extern CU_TestInfo tests_together[];

enum { STAGES_MOST = 4 };

static struct work new_work(void)
{
    return (struct work){.arena = arena_create((size_t)1 << 28)};
}

static struct rational r(int64_t num, int64_t den)
{
    return rational_make(num, den);
}

/* Bands each with one rule and one target. */
struct instance {
    struct count_rule rules[STAGES_MOST];
    struct rational targets[STAGES_MOST];
    struct together_stage stages[STAGES_MOST];
    struct together_question question;
};

static void put(struct instance *in, int multiple, int plus, struct rational target)
{
    int i = in->question.nstages++;

    in->rules[i] = (struct count_rule){multiple, plus, -1};
    in->targets[i] = target;
    in->stages[i] = (struct together_stage){&in->rules[i], 1, &in->targets[i], 1, multiple + plus, 0, 0};
    in->question.stages = in->stages;
}

/* Common practice, worked by hand: 276, then a quarter, a third and two fifths fewer: 207, 138.7 (33 %
 * of 207) and 84, bent to the nearest multiples: 23 x 12, 26 x 8, 35 x 4, 21 x 4. */
static void a_yoke_by_hand(void)
{
    static const int64_t expected[] = {276, 208, 140, 84};
    struct work work = new_work();
    struct instance in = {.question = {.reach = 0.06}};
    struct together_answer answer;

    put(&in, 12, 0, r(276, 1));
    put(&in, 8, 0, r(207, 1));
    put(&in, 4, 0, r(13869, 100));
    put(&in, 4, 0, r(84, 1));
    CU_ASSERT_EQUAL(together_solve(&work, &in.question, &answer), 0);
    CU_ASSERT_EQUAL_FATAL(answer.nsets, 3);
    for (int i = 0; i < 4; i++)
        CU_ASSERT_EQUAL(answer.sets[0].counts[i], expected[i]);
    CU_ASSERT_EQUAL(answer.sets[0].shaping_rounds, 3);
    CU_ASSERT_EQUAL(answer.sets[0].shaped_sts, 192);
    CU_ASSERT_EQUAL(rational_compare(answer.sets[0].off_sts, r(231, 100)), 0);
    arena_destroy(work.arena);
}

/* Zimmermann's percentages, K = 200 (Knitting Without Tears 1971, Knitting Around 1989): 268 at the
 * join, then x 3/4, x 2/3, x 3/5: 201, 134, 80. Repeats of one stitch: the printed counts. */
static void published_percentages(void)
{
    static const int64_t expected[] = {268, 201, 134, 80};
    struct work work = new_work();
    struct instance in = {.question = {.reach = 0.06}};
    struct together_answer answer;

    put(&in, 1, 0, r(268, 1));
    put(&in, 1, 0, r(268 * 3, 4));
    put(&in, 1, 0, r(268 * 3 * 2, 4 * 3));
    put(&in, 1, 0, r(268 * 3 * 2 * 3, 4 * 3 * 5));
    CU_ASSERT_EQUAL(together_solve(&work, &in.question, &answer), 0);
    for (int i = 0; i < 4; i++)
        CU_ASSERT_EQUAL(answer.sets[0].counts[i], expected[i]);
    arena_destroy(work.arena);
}

/* Repeats of 10 over 65 and of 12 over 67 (by hand). Within a tenth: 60 or 70, then 72; both are as far
 * off, and from 70 less is shaped. Within 15 %: 60 serves both, and nothing is shaped. */
static void shaping_least(void)
{
    struct work work = new_work();
    struct instance in = {.question = {.reach = 0.1}};
    struct together_answer answer;

    put(&in, 10, 0, r(65, 1));
    put(&in, 12, 0, r(67, 1));
    CU_ASSERT_EQUAL(together_solve(&work, &in.question, &answer), 0);
    CU_ASSERT_EQUAL(answer.nsets, 2);
    CU_ASSERT_EQUAL(answer.sets[0].counts[0], 70);
    CU_ASSERT_EQUAL(answer.sets[0].counts[1], 72);
    CU_ASSERT_EQUAL(answer.sets[0].shaped_sts, 2);
    in.question.reach = 0.15;
    CU_ASSERT_EQUAL(together_solve(&work, &in.question, &answer), 0);
    CU_ASSERT_EQUAL(answer.sets[0].counts[0], 60);
    CU_ASSERT_EQUAL(answer.sets[0].counts[1], 60);
    CU_ASSERT_EQUAL(answer.sets[0].shaping_rounds, 0);
    CU_ASSERT_EQUAL(rational_compare(answer.sets[0].off_sts, r(12, 1)), 0);
    arena_destroy(work.arena);
}

/* --- rules that must hold at once ----------------------------------------------------------------- */

static void every_pair_of_rules(void)
{
    int faults = 0, never = 0;

    for (int a = 1; a <= 12; a++)
        for (int b = 1; b <= 12; b++)
            for (int p = 0; p < a; p++)
                for (int q = 0; q < b; q++)
                    for (int also = -1; also < b; also++) {
                        struct count_rule rules[] = {{a, p, -1}, {b, q, also}};
                        struct count_set counts = sizing_counts(rules, 2);
                        int next = 0;

                        never += counts.nresidues == 0;
                        for (int64_t n = 0; n < counts.multiple; n++) {
                            bool meets = n % a == p && (n % b == q || n % b == also);

                            if (meets)
                                faults += next >= counts.nresidues || counts.residue[next++] != n;
                        }
                        faults += next != counts.nresidues;
                        for (int64_t m = 1; m < counts.multiple; m++)
                            faults += m % a == 0 && m % b == 0;
                    }
    CU_ASSERT_EQUAL(faults, 0);
    CU_ASSERT_TRUE(never > 1000);
}

/* Repeats of 6 with 1 over and of 4 with 2 over: odd and even, for ever. */
static void never_agree(void)
{
    struct work work = new_work();
    struct count_rule rules[] = {{6, 1, -1}, {4, 2, -1}};
    struct rational targets[] = {r(60, 1), r(60, 1)};
    struct together_stage stage = {rules, 2, targets, 2, 7, 0, 0};
    struct together_question question = {&stage, 1, 0.06, 0.0};
    struct together_answer answer;

    CU_ASSERT_EQUAL(together_solve(&work, &question, &answer), -1);
    CU_ASSERT_EQUAL(answer.trouble[0], TOGETHER_NEVER);
    CU_ASSERT_EQUAL(answer.nsets, 0);
    /* Boats of 16 with an edging of 4 (by hand): 75 would do neither; 80 does both. */
    rules[0] = (struct count_rule){16, 0, -1};
    rules[1] = (struct count_rule){4, 0, -1};
    targets[0] = targets[1] = r(75, 1);
    question.reach = 0.07;
    CU_ASSERT_EQUAL(together_solve(&work, &question, &answer), 0);
    CU_ASSERT_EQUAL_FATAL(answer.nsets, 1);
    CU_ASSERT_EQUAL(answer.sets[0].counts[0], 80);
    /* Nothing within 1 %: the nearest each way. */
    question.reach = 0.01;
    CU_ASSERT_EQUAL(together_solve(&work, &question, &answer), 1);
    CU_ASSERT_EQUAL(answer.trouble[0], TOGETHER_FAR);
    CU_ASSERT_EQUAL(answer.below[0], 64);
    CU_ASSERT_EQUAL(answer.above[0], 80);
    CU_ASSERT_EQUAL(answer.sets[0].counts[0], 80);
    CU_ASSERT_EQUAL(answer.sets[1].counts[0], 64);
    /* As far as a tenth, 67.5 to 82.5: 80 only. As far as 6 %, 70.5 to 79.5: none. Must it pass with 76,
     * 6 % over those are 80.56. By hand. */
    question.most = 0.1;
    CU_ASSERT_EQUAL(together_solve(&work, &question, &answer), 1);
    CU_ASSERT_EQUAL_FATAL(answer.nsets, 1);
    CU_ASSERT_EQUAL(answer.sets[0].counts[0], 80);
    question.most = 0.06;
    CU_ASSERT_EQUAL(together_solve(&work, &question, &answer), -1);
    CU_ASSERT_EQUAL(answer.trouble[0], TOGETHER_BEYOND);
    CU_ASSERT_EQUAL(answer.above[0], 80);
    stage.least = stage.pass = 76;
    CU_ASSERT_EQUAL(together_solve(&work, &question, &answer), 1);
    CU_ASSERT_EQUAL(answer.sets[0].counts[0], 80);
    /* 30 wanted and nothing under 96: that alone, never none at all. */
    rules[0] = (struct count_rule){96, 0, -1};
    targets[0] = targets[1] = r(30, 1);
    stage.least = stage.pass = 0;
    question.most = 0.0;
    CU_ASSERT_EQUAL(together_solve(&work, &question, &answer), 1);
    CU_ASSERT_EQUAL(answer.below[0], 0);
    CU_ASSERT_EQUAL(answer.above[0], 96);
    CU_ASSERT_EQUAL_FATAL(answer.nsets, 1);
    CU_ASSERT_EQUAL(answer.sets[0].counts[0], 96);
    arena_destroy(work.arena);
}

/* A count that stands, and one that must pass something. */
static void fixed_and_least(void)
{
    struct work work = new_work();
    struct instance in = {.question = {.reach = 0.2}};
    struct together_answer answer;

    put(&in, 6, 0, r(61, 1));
    in.stages[0].least = 65;
    put(&in, 1, 0, r(50, 1));
    in.stages[1].fixed = 72;
    CU_ASSERT_EQUAL(together_solve(&work, &in.question, &answer), 0);
    CU_ASSERT_EQUAL(answer.sets[0].counts[0], 72);
    CU_ASSERT_EQUAL(answer.sets[0].counts[1], 72);
    CU_ASSERT_EQUAL(answer.sets[0].shaping_rounds, 0);
    CU_ASSERT_EQUAL(answer.sets[1].counts[0], 66);
    CU_ASSERT_EQUAL(answer.nsets, 2);
    arena_destroy(work.arena);
}

/* --- against all sets there are --------------------------------------------------------------- */

struct tried {
    int64_t counts[STAGES_MOST];
    int rounds;
    double off; /* quarters of a stitch: exact */
    int64_t shaped;
};

static int worse(const struct tried *a, const struct tried *b, int n)
{
    if (a->rounds != b->rounds)
        return a->rounds > b->rounds ? 1 : -1;
    if (a->off < b->off || a->off > b->off)
        return a->off > b->off ? 1 : -1;
    if (a->shaped != b->shaped)
        return a->shaped > b->shaped ? 1 : -1;
    for (int i = 0; i < n; i++)
        if (a->counts[i] != b->counts[i])
            return a->counts[i] < b->counts[i] ? 1 : -1;
    return 0;
}

/* The definition of a round of shaping, by halving and doubling. */
static int rounds_by_hand(int64_t from, int64_t to)
{
    int rounds = 0;

    for (; from != to; rounds++) {
        int64_t most = 2 * from, least = from - from / 2;

        from = to > from ? (to < most ? to : most) : (to > least ? to : least);
    }
    return rounds;
}

static void weigh(const struct instance *in, struct tried *now, struct tried best[3], int *nbest)
{
    int n = in->question.nstages, to;

    now->rounds = 0;
    now->off = 0;
    now->shaped = 0;
    for (int i = 0; i < n; i++) {
        double off = (double)now->counts[i] - rational_double(in->targets[i]);

        now->off += off < 0 ? -off : off;
        if (i > 0) {
            now->rounds += rounds_by_hand(now->counts[i - 1], now->counts[i]);
            now->shaped += llabs((long long)(now->counts[i] - now->counts[i - 1]));
        }
    }
    for (to = *nbest; to > 0 && worse(&best[to - 1], now, n) > 0; to--)
        if (to < 3)
            best[to] = best[to - 1];
    if (to < 3)
        best[to] = *now;
    *nbest += *nbest < 3;
}

static void try_all(const struct instance *in, int stage, struct tried *now, struct tried best[3],
                    int *nbest)
{
    double target;

    if (stage == in->question.nstages) {
        weigh(in, now, best, nbest);
        return;
    }
    target = rational_double(in->targets[stage]);
    for (int64_t n = 1; n < 200; n++) {
        double off = (double)n - target;

        if (n < in->stages[stage].least || n % in->rules[stage].multiple != in->rules[stage].plus ||
            (off < 0 ? -off : off) > in->question.reach * target)
            continue;
        now->counts[stage] = n;
        try_all(in, stage + 1, now, best, nbest);
    }
}

static uint32_t next(uint32_t *seed)
{
    *seed = *seed * 1664525u + 1013904223u;
    return *seed >> 8;
}

static int faults_of(struct instance *in)
{
    struct work work = new_work();
    struct together_answer answer;
    struct tried best[3], now = {{0}, 0, 0, 0};
    int nbest = 0, faults = 0, status = together_solve(&work, &in->question, &answer);

    try_all(in, 0, &now, best, &nbest);
    if (nbest > 0) {
        faults += status != 0 || answer.nsets != nbest;
        for (int k = 0; k < nbest && !faults; k++) {
            for (int i = 0; i < in->question.nstages; i++)
                faults += answer.sets[k].counts[i] != best[k].counts[i];
            faults += answer.sets[k].shaping_rounds != best[k].rounds;
            faults += answer.sets[k].shaped_sts != best[k].shaped;
        }
    } else {
        faults += status != 1;
    }
    arena_destroy(work.arena);
    return faults;
}

static void all_small_instances(void)
{
    int faults = 0, shaped = 0;
    uint32_t seed = 20260;

    for (int k = 0; k < 3000; k++) {
        struct instance in = {.question = {.reach = 0.125}};
        int n = 1 + (int)(next(&seed) % STAGES_MOST);
        int64_t near = 80 + next(&seed) % 400;

        for (int i = 0; i < n; i++) {
            int multiple = 2 + (int)(next(&seed) % 12);
            int64_t quarters = near + next(&seed) % 60;

            put(&in, multiple, (int)(next(&seed) % 3) % multiple, r(quarters, 4));
        }
        faults += faults_of(&in);
        shaped += n > 1;
    }
    CU_ASSERT_EQUAL(faults, 0);
    CU_ASSERT_TRUE(shaped > 1000);
}

static void nothing_to_solve(void)
{
    struct work work = new_work();
    struct instance in = {.question = {.reach = 0.06}};
    struct together_answer answer;

    CU_ASSERT_EQUAL(together_solve(&work, &in.question, &answer), -1);
    put(&in, 12, 0, rational_none());
    CU_ASSERT_EQUAL(together_solve(&work, &in.question, &answer), -1);
    CU_ASSERT_EQUAL(answer.trouble[0], TOGETHER_HUGE);
    arena_destroy(work.arena);
}

CU_TestInfo tests_together[] = {
    {"a yoke by hand", a_yoke_by_hand},
    {"published percentages", published_percentages},
    {"shaping least", shaping_least},
    {"every pair of rules", every_pair_of_rules},
    {"rules that never agree, boats and edging", never_agree},
    {"a count that stands, one that must pass", fixed_and_least},
    {"all small instances", all_small_instances},
    {"nothing to solve", nothing_to_solve},
    CU_TEST_INFO_NULL,
};

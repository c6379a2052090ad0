/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a placement of a part is worth: its pairs counted, its pieces squared.
 */
#include "best_internal.h"

#include "base/arena.h"
#include "base/work.h"

static bool lies_on(const struct part *part, int below, int above)
{
    return above == below + 1 || (part->round_rows && below == part->nrows - 1 && above == 0);
}

/* A catch in column a of one row, another in column b of the row above. */
static void add_above(const struct catch_rules *rules, const struct part *part, int a, int b,
                      struct catch_pair *pair)
{
    int reach = rules->stagger_cols - 1;

    for (int away = -reach; away <= reach; away++) {
        int column = a + away;

        if (part->round_columns)
            column = (column % part->ncols + part->ncols) % part->ncols;
        if (column == b && away == 0)
            pair->stacks++;
        else if (column == b)
            pair->nears++;
    }
}

struct catch_pair best_pair(const struct catch_rules *rules, const struct part *part,
                            const struct part_float *a, int column_a, const struct part_float *b,
                            int column_b)
{
    struct catch_pair pair = {0, 0};

    if (a->row == b->row && a->strand != b->strand && column_a == column_b)
        pair.stacks++;
    if (lies_on(part, a->row, b->row))
        add_above(rules, part, column_a, column_b, &pair);
    if (lies_on(part, b->row, a->row))
        add_above(rules, part, column_b, column_a, &pair);
    return pair;
}

struct catch_pair best_own_pair(const struct catch_rules *rules, const struct part *part, int column)
{
    struct catch_pair pair = {0, 0};

    if (part->alone)
        add_above(rules, part, column, column, &pair);
    return pair;
}

/* Index of the first float of each row; [nrows] too. */
static int *start_rows(struct arena *arena, const struct part *part)
{
    int *start = arena_alloc(arena, (size_t)part->nrows + 1, sizeof *start);

    for (int i = 0; i < part->nfloats; i++)
        start[part->floats[i].row + 1]++;
    for (int r = 0; r < part->nrows; r++)
        start[r + 1] += start[r];
    return start;
}

static bool may_meet(const struct catch_rules *rules, const struct part *part,
                     const struct part_float *a, const struct part_float *b)
{
    int reach = rules->stagger_cols - 1;

    if (part->round_columns)
        return true;
    return a->column[1] - reach <= b->column[b->span_sts] &&
           b->column[1] - reach <= a->column[a->span_sts];
}

void best_each_pair(struct arena *arena, const struct catch_rules *rules, const struct part *part,
                    void (*visit)(void *to, int i, int k), void *to)
{
    int *start = start_rows(arena, part);

    for (int i = 0; i < part->nfloats; i++) {
        int row = part->floats[i].row;
        int end = start[row + 2 <= part->nrows ? row + 2 : part->nrows];

        for (int k = i + 1; k < end; k++)
            if (may_meet(rules, part, &part->floats[i], &part->floats[k]))
                visit(to, i, k);
        if (row > 0 || !part->round_rows || part->nrows < 3)
            continue;
        for (int k = start[part->nrows - 1]; k < part->nfloats; k++)
            if (may_meet(rules, part, &part->floats[i], &part->floats[k]))
                visit(to, i, k);
    }
}

struct score {
    const struct catch_rules *rules;
    const struct part *part;
    struct part_answer *answer;
    int *first; /* of float i: its places from answer->place[first[i]] on */
};

static void add_pair(struct score *score, int i, int a, int k, int b)
{
    const struct part_float *one = &score->part->floats[i], *other = &score->part->floats[k];
    struct catch_pair pair =
        best_pair(score->rules, score->part, one, one->column[a], other, other->column[b]);

    score->answer->stacks += pair.stacks;
    score->answer->near += pair.nears;
}

static void visit_pair(void *to, int i, int k)
{
    struct score *score = to;
    const int *place = score->answer->place;

    for (int a = 0; a <= score->part->floats[i].fewest; a++)
        for (int b = 0; b <= score->part->floats[k].fewest; b++)
            if (place[score->first[i] + a] > 0 && place[score->first[k] + b] > 0)
                add_pair(score, i, place[score->first[i] + a], k, place[score->first[k] + b]);
}

static void score_float(struct score *score, int i)
{
    const struct part_float *span = &score->part->floats[i];
    const int *place = score->answer->place + score->first[i];
    struct part_answer *answer = score->answer;
    int64_t before = 0;
    int made = 0;

    for (int j = 0; j <= span->fewest; j++) {
        struct catch_pair own;

        if (place[j] == 0)
            continue;
        own = best_own_pair(score->rules, score->part, span->column[place[j]]);
        answer->stacks += own.stacks;
        answer->near += own.nears;
        for (int l = 0; score->part->alone && l < j; l++)
            if (place[l] > 0)
                add_pair(score, i, place[l], i, place[j]);
        answer->squares += (place[j] - before - 1) * (place[j] - before - 1);
        answer->ends += score->rules->clear_ends > 1 &&
                        (place[j] <= 2 || place[j] >= span->span_sts - 1);
        before = place[j];
        made++;
    }
    answer->squares += (span->span_sts - before) * (span->span_sts - before);
    answer->spares += made - span->fewest;
}

void best_score(struct work *work, const struct catch_rules *rules, const struct part *part,
                struct part_answer *answer)
{
    struct arena *arena = arena_branch(work->arena);
    struct score score = {rules, part, answer, NULL};

    answer->stacks = answer->spares = answer->near = answer->ends = answer->squares = 0;
    score.first = arena_alloc(arena, (size_t)part->nfloats + 1, sizeof *score.first);
    for (int i = 0; i < part->nfloats; i++)
        score.first[i + 1] = score.first[i] + part->floats[i].fewest + 1;
    for (int i = 0; i < part->nfloats; i++)
        score_float(&score, i);
    best_each_pair(arena, rules, part, visit_pair, &score);
    arena_destroy(arena);
}

int best_compare(const struct part_answer *a, const struct part_answer *b, int times)
{
    const int64_t x[5] = {a->stacks, a->spares, a->near, a->ends, a->squares};
    const int64_t y[5] = {b->stacks, b->spares, b->near, b->ends, b->squares};

    for (int i = 0; i < 5; i++)
        if (times * x[i] != y[i])
            return times * x[i] < y[i] ? -1 : 1;
    return 0;
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The network solver against trying every answer, on small networks of our own making.
 */
#include <CUnit/Basic.h>
#include <stdlib.h>

#include "base/arena.h"
#include "base/work.h"
#include "model/catches/net.h"

enum { VARS_MAX = 7, VALUES_MAX = 4 };

static uint64_t next_random(uint64_t *state)
{
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    return *state;
}

struct made {
    struct net net;
    int nvalues[VARS_MAX];
    int64_t *unary[VARS_MAX];
    int64_t cells[VARS_MAX][VALUES_MAX];
    struct net_link links[VARS_MAX * VARS_MAX];
    int64_t tables[VARS_MAX * VARS_MAX][VALUES_MAX * VALUES_MAX];
};

/* Some costs may not be: one in `never` (0: none). The others are multiples of `unit`. */
static void make_net(struct made *made, uint64_t *random, int never, int64_t unit)
{
    int n = 2 + (int)(next_random(random) % (VARS_MAX - 1));

    made->net = (struct net){n, made->nvalues, made->unary, 0, made->links};
    for (int v = 0; v < n; v++) {
        made->nvalues[v] = 1 + (int)(next_random(random) % VALUES_MAX);
        made->unary[v] = made->cells[v];
        for (int x = 0; x < made->nvalues[v]; x++)
            made->cells[v][x] = unit * (int64_t)(next_random(random) % 20);
    }
    for (int a = 0; a < n; a++)
        for (int b = a + 1; b < n; b++) {
            int k = made->net.nlinks;

            if (next_random(random) % 2)
                continue;
            made->links[k] = (struct net_link){a, b, made->tables[k]};
            made->net.nlinks++;
            for (int i = 0; i < made->nvalues[a] * made->nvalues[b]; i++)
                made->tables[k][i] = never && next_random(random) % (uint64_t)never == 0
                                         ? NET_NEVER
                                         : unit * (int64_t)(next_random(random) % 12);
        }
}

static int64_t cost_of(const struct net *net, const int *value)
{
    int64_t sum = 0;

    for (int v = 0; v < net->nvars; v++)
        sum += net->unary[v][value[v]];
    for (int i = 0; i < net->nlinks && sum < NET_NEVER; i++)
        sum += net->links[i].cost[value[net->links[i].a] * net->nvalues[net->links[i].b] +
                                  value[net->links[i].b]];
    return sum < NET_NEVER ? sum : NET_NEVER;
}

static int64_t cheapest(const struct net *net)
{
    int value[VARS_MAX] = {0};
    int64_t best = NET_NEVER;

    for (;;) {
        int64_t cost = cost_of(net, value);
        int v = 0;

        best = cost < best ? cost : best;
        while (v < net->nvars && ++value[v] == net->nvalues[v])
            value[v++] = 0;
        if (v == net->nvars)
            return best;
    }
}

static void compare(const struct net_effort *effort, int never, int rounds)
{
    uint64_t random = 2463534242u;
    int proven = 0, solvable = 0;

    for (int i = 0; i < rounds; i++) {
        struct work work = {.arena = arena_create((size_t)1 << 26)};
        struct net_answer answer = {0};
        struct made made;
        int64_t best;

        make_net(&made, &random, never, effort->granule);
        best = cheapest(&made.net);
        net_solve(&work, &made.net, effort, &answer);
        if (best < NET_NEVER) {
            solvable++;
            proven += answer.proven;
            CU_ASSERT_EQUAL(cost_of(&made.net, answer.value), answer.cost);
            CU_ASSERT_TRUE(answer.cost >= best);
            CU_ASSERT_TRUE(answer.bound <= best);
            if (answer.proven)
                CU_ASSERT_EQUAL(answer.cost, best);
        }
        arena_destroy(work.arena);
    }
    CU_ASSERT_TRUE(solvable > rounds / 4);
    CU_ASSERT_TRUE(proven > solvable * 9 / 10);
}

static void by_elimination(void)
{
    const struct net_effort effort = {.cells = 1 << 16, .states = 100, .passes = 100, .granule = 1};

    compare(&effort, 0, 3000);
    compare(&effort, 5, 3000);
}

/* No room for tables: the bound and the search alone. */
static void by_search(void)
{
    const struct net_effort effort = {
        .cells = 1, .cells_last = 1, .states = 5000, .passes = 100, .steps = 100000000, .granule = 1};
    struct net_effort coarse = effort;

    compare(&effort, 0, 3000);
    compare(&effort, 5, 3000);
    coarse.granule = 16;
    compare(&coarse, 0, 3000);
    compare(&coarse, 5, 3000);
}

/* Hardly any room, and little to spend: what is not proven must still be an answer, and the bound a
 * bound. */
static void with_little_room(void)
{
    uint64_t random = 88172645463325252u;
    int proven = 0;

    for (int i = 0; i < 3000; i++) {
        const struct net_effort effort = {.cells = 1,
                                          .cells_last = 1 + (int64_t)(next_random(&random) % 100),
                                          .states = 1 + i % 3,
                                          .passes = i % 5,
                                          .steps = i % 2 ? 100 : 100000,
                                          .granule = i % 3 ? 16 : 1};
        struct work work = {.arena = arena_create((size_t)1 << 26)};
        struct net_answer answer = {0};
        struct made made;
        int64_t best;

        make_net(&made, &random, 0, effort.granule);
        best = cheapest(&made.net);
        net_solve(&work, &made.net, &effort, &answer);
        CU_ASSERT_EQUAL(cost_of(&made.net, answer.value), answer.cost);
        CU_ASSERT_TRUE(answer.bound <= best && best <= answer.cost);
        CU_ASSERT_TRUE(!answer.proven || answer.cost == best);
        proven += answer.proven;
        arena_destroy(work.arena);
    }
    CU_ASSERT_TRUE(proven > 500 && proven < 2970);
}

CU_TestInfo tests_net[] = {
    {"elimination finds the cheapest of all answers", by_elimination},
    {"bound and search find it too, and prove it", by_search},
    {"with little room a bound is still a bound", with_little_room},
    CU_TEST_INFO_NULL,
};

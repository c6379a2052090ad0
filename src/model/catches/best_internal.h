/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the files of the best placement share.
 */
#ifndef STRANDWISE_BEST_INTERNAL_H
#define STRANDWISE_BEST_INTERNAL_H

#include "best.h"

struct arena;

/* A float that must be caught. column[p] is the chart column of its stitch p, p from 1. */
struct best_float {
    int row;
    int span_sts;
    int fewest;
    bool may_spare;
    uint8_t yarn;
    const int *column;   /* column[1..span_sts], within the ring */
    int part;
};

struct best_cloth {
    const struct catch_rules *rules;
    int nrows, ncols;
    int nfloats;
    struct best_float *floats;  /* by row, then from */
    int *row_start;             /* [nrows + 1] */
};

/* A part in coordinates of its own, so that equal parts look equal. */
struct part_float {
    int row;
    int span_sts;
    int fewest;
    bool may_spare;
    uint8_t strand;      /* numbered as met: only whether two differ counts */
    int *column;         /* column[1..span_sts], ascending unless the part goes round the ring */
    int whole;           /* index of the float in the cloth */
};

struct part {
    int nfloats;
    struct part_float *floats;  /* in order of row, first column */
    int nrows, ncols;
    bool round_rows;     /* its last row meets its first */
    bool round_columns;
    bool alone;          /* one row that lies on itself */
    bool mirrored;       /* column and position run the other way than in the chart */
};

struct part_answer {
    bool found;
    int *place;          /* for each float in turn: fewest + 1 positions from 1, 0: not made */
    bool proven;
    int64_t bound_stacks, bound_spares, bound_near, bound_squares;
    int64_t stacks, spares, near, ends, squares;
};

void best_list_floats(struct work *work, const struct grid *grid, const struct catch_rules *rules,
                      struct best_cloth *cloth);
int best_find_parts(struct work *work, struct best_cloth *cloth); /* how many */
void best_read_part(struct work *work, const struct best_cloth *cloth, const int *members, int n,
                    struct part *part);
/* A copy in work's arena. */
struct part *best_keep_part(struct work *work, const struct part *part);

struct catch_pair {
    int stacks, nears;
};

/* How a catch of one float stands to one of another (or of the same, in a row that lies on itself). */
struct catch_pair best_pair(const struct catch_rules *rules, const struct part *part,
                            const struct part_float *a, int column_a, const struct part_float *b,
                            int column_b);
/* To itself, in a row that lies on itself. */
struct catch_pair best_own_pair(const struct catch_rules *rules, const struct part *part, int column);

/* visit(to, i, k), i < k, for all floats of one row or of rows that touch, whose columns may meet;
 * each pair once. arena: for scratch. */
void best_each_pair(struct arena *arena, const struct catch_rules *rules, const struct part *part,
                    void (*visit)(void *to, int i, int k), void *to);

/* The five terms of places laid out as in an answer: what of a part they cost. */
void best_score(struct work *work, const struct catch_rules *rules, const struct part *part,
                struct part_answer *answer);

/* Columns after which a part that goes all round repeats itself: its ncols if only then. */
int best_ring_repeat(struct work *work, const struct part *part);

/* One such repeat, itself a ring. tile_float[i]: which of its floats the part's float i copies. */
void best_read_tile(struct work *work, const struct part *part, int repeat, struct part *tile,
                    int *tile_float);

/* -1 where a is better, 0 where as good. times: one of a for so many of b's worth. */
int best_compare(const struct part_answer *a, const struct part_answer *b, int times);

/* quick: the placement row by row, scored; the answer is no worse. */
void best_solve_part(struct work *work, const struct catch_rules *rules, const struct part *part,
                     const struct part_answer *quick, struct part_answer *answer);

#endif

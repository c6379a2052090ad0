/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Exact fractions: a stitch count, a gauge, a length in inches.
 *
 * A limit is compared exactly (5 stitches at 5 to the inch are one inch, not a hair less),
 * so nothing that decides is ever a binary fraction. A value that does not fit is
 * rational_none(); it passes through every operation, so a chain is tested once, at its end.
 */
#ifndef STRANDWISE_RATIONAL_H
#define STRANDWISE_RATIONAL_H

#include <stdbool.h>
#include <stdint.h>

struct rational {
    int64_t num; /* -INT64_MAX to INT64_MAX */
    int64_t den; /* > 0 and coprime to num; 0: no value */
};

struct rational rational_none(void);
struct rational rational_make(int64_t num, int64_t den); /* reduced; den 0: none */
struct rational rational_whole(int64_t whole);
bool rational_is_value(struct rational a);

struct rational rational_add(struct rational a, struct rational b);
struct rational rational_sub(struct rational a, struct rational b);
struct rational rational_mul(struct rational a, struct rational b);
struct rational rational_div(struct rational a, struct rational b); /* b 0: none */
struct rational rational_distance(struct rational a, struct rational b); /* the larger less the smaller */
struct rational rational_millionths(double value); /* to a millionth: 1 % is 1 % and not a hair less */

/* -1, 0, 1; both must be values. Exact (128-bit products). */
int rational_compare(struct rational a, struct rational b);
int rational_sign(struct rational a); /* of a value */

/* Of a value. Nearest: a half goes up (towards the larger). */
int64_t rational_floor(struct rational a);
int64_t rational_ceil(struct rational a);
int64_t rational_nearest(struct rational a);

double rational_double(struct rational a); /* NaN for none */

#endif

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rational.h"

#include <assert.h>
#include <math.h>

__extension__ typedef __int128 wide;
__extension__ typedef unsigned __int128 uwide;

static uwide common_divisor(uwide a, uwide b)
{
    /* 128-bit division is slow; most values fit in 64 from the start. */
    while (b > UINT64_MAX || a > UINT64_MAX) {
        uwide rest;

        if (b == 0)
            return a;
        rest = a % b;
        a = b;
        b = rest;
    }
    for (uint64_t x = (uint64_t)a, y = (uint64_t)b;;) {
        uint64_t rest;

        if (y == 0)
            return x;
        rest = x % y;
        x = y;
        y = rest;
    }
}

/* The numerator is kept within +-INT64_MAX, so that its sign can always be turned. */
static struct rational reduced(wide num, wide den)
{
    uwide divisor, size, below;
    bool negative = (num < 0) != (den < 0);

    if (den == 0)
        return rational_none();
    size = num < 0 ? -(uwide)num : (uwide)num;
    below = den < 0 ? -(uwide)den : (uwide)den;
    divisor = common_divisor(size, below);
    size /= divisor;
    below /= divisor;
    if (size > INT64_MAX || below > INT64_MAX)
        return rational_none();
    return (struct rational){negative ? -(int64_t)size : (int64_t)size, (int64_t)below};
}

struct rational rational_none(void)
{
    return (struct rational){0, 0};
}

struct rational rational_make(int64_t num, int64_t den)
{
    return reduced(num, den);
}

struct rational rational_whole(int64_t whole)
{
    return reduced(whole, 1);
}

bool rational_is_value(struct rational a)
{
    return a.den > 0;
}

static bool both_values(struct rational a, struct rational b)
{
    return rational_is_value(a) && rational_is_value(b);
}

struct rational rational_add(struct rational a, struct rational b)
{
    if (!both_values(a, b))
        return rational_none();
    return reduced((wide)a.num * b.den + (wide)b.num * a.den, (wide)a.den * b.den);
}

struct rational rational_sub(struct rational a, struct rational b)
{
    if (!both_values(a, b))
        return rational_none();
    return reduced((wide)a.num * b.den - (wide)b.num * a.den, (wide)a.den * b.den);
}

struct rational rational_mul(struct rational a, struct rational b)
{
    if (!both_values(a, b))
        return rational_none();
    return reduced((wide)a.num * b.num, (wide)a.den * b.den);
}

struct rational rational_div(struct rational a, struct rational b)
{
    if (!both_values(a, b))
        return rational_none();
    return reduced((wide)a.num * b.den, (wide)a.den * b.num);
}

struct rational rational_distance(struct rational a, struct rational b)
{
    struct rational off = rational_sub(a, b);

    return off.num < 0 ? rational_sub(rational_whole(0), off) : off;
}

struct rational rational_millionths(double value)
{
    return rational_make(llround(value * 1e6), 1000000);
}

int rational_compare(struct rational a, struct rational b)
{
    wide left, right;

    assert(both_values(a, b));
    left = (wide)a.num * b.den;
    right = (wide)b.num * a.den;
    return (left > right) - (left < right);
}

int rational_sign(struct rational a)
{
    assert(rational_is_value(a));
    return (a.num > 0) - (a.num < 0);
}

/* C divides towards zero; den > 0. */
static int64_t divide_down(wide num, wide den)
{
    wide quotient = num / den;

    return (int64_t)(num % den < 0 ? quotient - 1 : quotient);
}

int64_t rational_floor(struct rational a)
{
    assert(rational_is_value(a));
    return divide_down(a.num, a.den);
}

int64_t rational_ceil(struct rational a)
{
    assert(rational_is_value(a));
    return -divide_down(-(wide)a.num, a.den);
}

int64_t rational_nearest(struct rational a)
{
    assert(rational_is_value(a));
    return divide_down(2 * (wide)a.num + a.den, 2 * (wide)a.den);
}

double rational_double(struct rational a)
{
    if (!rational_is_value(a))
        return (double)NAN;
    return (double)a.num / (double)a.den;
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Colours of a picture to yarns: each to the nearest shade (CIEDE2000), counted as they
 * come, so that a colour is compared once however often it is met. Used by chart_png.c.
 */
#ifndef STRANDWISE_CHART_SHADES_H
#define STRANDWISE_CHART_SHADES_H

#include "read/project/project.h"

struct arena;

enum { CHART_COLOURS_MAX = 1 << 16 };

/* A yarn with a shade. */
struct chart_shade {
    uint8_t yarn;
    uint32_t rgb; /* 0xrrggbb */
    double lab[3];
};

/* A colour met in the picture. */
struct chart_colour {
    uint32_t rgb;
    int shade;
    int64_t pixels;
};

struct chart_shades {
    struct arena *arena;
    const struct project *project;
    struct chart_shade shade[GRID_YARNS_MAX];
    int count; /* shades: may be 0 */
    struct chart_colour *colour;
    int ncolours, room;
    uint32_t *slot; /* slot[2 * room]: where a colour is: its index plus 1; 0: free */
    bool too_many;  /* more colours than CHART_COLOURS_MAX */
};

struct chart_shades *chart_shades_create(struct arena *arena, const struct project *project);

/* Given: a pixel: red, green, blue, alpha; laid on white where alpha is under 255.
 * Returned: index of its shade, the first of several as near; count: fully transparent;
 *   -1: too many colours. There must be a shade. */
int chart_shades_match(struct chart_shades *shades, const unsigned char pixel[4]);

/* "cream 96 stitches; slate 72 stitches (from #323c46)": in brackets the colours, most
 * frequent first, that differ from the shade they went to. stitches: of each shade. */
const char *chart_shades_list(const struct chart_shades *shades, const int64_t *stitches);

/* Sentences, each after a space, on yarns that share one shade; "" if none do. */
const char *chart_shades_twins(const struct chart_shades *shades);

#endif

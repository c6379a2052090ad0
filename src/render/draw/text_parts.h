/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The parts of a chart in characters. Used by draw_text*.c alone.
 */
#ifndef STRANDWISE_DRAW_TEXT_PARTS_H
#define STRANDWISE_DRAW_TEXT_PARTS_H

#include "parts.h"
#include "text.h"

/* What stands in the place behind a stitch: a strand (its yarn), or one of these. */
enum { SIGN_NONE = GRID_YARNS_MAX, SIGN_MANY, SIGN_EDGE, SIGN_LEFT_OUT, SIGN_LYING, SIGN_LYING_MANY,
       SIGN_CHANGE, SIGN_CHANGE_LAST = SIGN_CHANGE + RECOLOUR_ONES_MAX, SIGNS };

struct text_chart {
    struct drawing *drawing;
    struct page page;
    const struct draw_text_style *style;
    struct text *out;
    const char *mark[GRID_YARNS_MAX]; /* of the yarns */
    const char *sign[SIGNS];
    bool seen[SIGNS];
    int mark_columns;
    int number_columns;               /* room for the number of a row, at each side */
    int ground[GRID_YARNS_MAX];       /* nearest of the 256 colours */
    uint8_t *behind;                  /* [row][column] */
    const struct drawn_catch *caught;
    int64_t ncaught;
    int painted;                      /* yarn whose ground is on; -1: none */
};

/* Write on the ground of a yarn from here on; -1: on that of the window. */
void draw_text_paint(struct text_chart *chart, int yarn);
/* A word, with blanks behind it to that many columns. */
void draw_text_add(struct text_chart *chart, const char *word, int columns);
uint8_t *draw_text_behind(const struct text_chart *chart, int row, int column);
/* Number of a column in its part of the chart, as written below it. */
int draw_text_number(const struct drawing *drawing, int column);

void draw_text_legend(struct text_chart *chart); /* draw/text_legend.c */

#endif

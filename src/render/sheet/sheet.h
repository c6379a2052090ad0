/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A sheet of drawing: a list of what stands on it, in millimetres from its top left corner,
 * painted in the order of the list. Layout only; what the things mean is for draw*.c to know.
 *
 * Cells of one colour are one item, however many there are, and so are all lines of one kind:
 * the writers make one path of each.
 */
#ifndef STRANDWISE_SHEET_H
#define STRANDWISE_SHEET_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/text.h"

struct work;

struct sheet_shade {
    unsigned char r, g, b;
};

struct sheet_run {
    int32_t x, y, cells; /* in cells, from the left and from the top */
};

/* A point of a path: 'M' begins a line, 'L' draws to here, 'Q' is the point a curve is drawn
 * towards (the next point, an 'L', is its end), 'Z' closes (its point is of no account). */
struct sheet_point {
    double x_mm, y_mm;
    char what;
};

enum sheet_kind { SHEET_CELLS, SHEET_PATH, SHEET_WORDS };
enum sheet_anchor { SHEET_START, SHEET_MIDDLE, SHEET_END };

struct sheet_item {
    enum sheet_kind kind;
    const char *label; /* what it is, for whoever reads or counts the drawing; NULL: nothing */
    double x_mm, y_mm; /* where it is put; of words: their anchor on the base line */
    struct sheet_shade fill, stroke, casing;
    /* cells */
    double cell_width_mm, cell_height_mm;
    struct sheet_run *run;
    /* paths */
    bool filled;
    double stroke_mm;  /* 0: no line */
    double casing_mm;  /* a wider line under it; 0: none */
    double dash_mm;    /* 0: an unbroken line */
    double gap_mm;     /* between dashes; 0: as long as they are */
    bool square_ends;  /* else round */
    struct sheet_point *point;
    size_t count, room; /* of runs or points */
    /* words */
    const char *words;
    double size_mm;
    enum sheet_anchor anchor;
    bool bold;
    bool mono;         /* every letter as wide as the next: for tables */
    double room_mm;    /* on paper and in a picture, words wider than this are drawn narrower; 0: as
                          they come */

    struct sheet_item *next;
};

/* A chart on a sheet, for paper it is too large for: what stands above it is its head, what stands
 * beside and below it belongs to its rows and columns, and below that is its key. */
struct sheet_chart {
    double x_mm, y_mm;          /* top left corner of its stitches */
    int ncols, nrows;           /* 0: there is none */
    double cell_width_mm, cell_height_mm;
    double right_mm, below_mm;  /* how far what stands beside and below it reaches */
    double key_width_mm;        /* of its head and key */
};

struct sheet {
    struct work *work;
    double width_mm, height_mm; /* set by who draws */
    const char *title;          /* for readers that cannot see it */
    struct sheet_chart chart;
    struct sheet_item *first, *last;
};

struct sheet *sheet_create(struct work *work);

struct sheet_item *sheet_add_cells(struct sheet *sheet, double x_mm, double y_mm,
                                   double cell_width_mm, double cell_height_mm,
                                   struct sheet_shade fill);
void sheet_run(struct sheet *sheet, struct sheet_item *cells, int x, int y, int count);

/* A path with a line of that width; fill and casing may be set in what is returned. */
struct sheet_item *sheet_add_path(struct sheet *sheet, struct sheet_shade stroke, double stroke_mm);
void sheet_move(struct sheet *sheet, struct sheet_item *path, double x_mm, double y_mm);
void sheet_line(struct sheet *sheet, struct sheet_item *path, double x_mm, double y_mm);
void sheet_curve(struct sheet *sheet, struct sheet_item *path, double towards_x_mm,
                 double towards_y_mm, double x_mm, double y_mm);
void sheet_close(struct sheet *sheet, struct sheet_item *path);
void sheet_box(struct sheet *sheet, struct sheet_item *path, double x_mm, double y_mm,
               double width_mm, double height_mm);

struct sheet_item *sheet_add_words(struct sheet *sheet, double x_mm, double y_mm, double size_mm,
                                   enum sheet_anchor anchor, const char *words);

/* Put all of `other` on the sheet, moved; other is used up. */
void sheet_put(struct sheet *sheet, struct sheet *other, double x_mm, double y_mm);

/* Room words take in the face of the drawings, DejaVu Sans; beyond ASCII near enough. Another face
 * put in its place may be wider or narrower. (sheet/type.c) */
double sheet_words_width_mm(const char *words, double size_mm, bool bold);
/* Of one byte of UTF-8, in parts of the size; 0 for those that go on a letter. */
double sheet_letter_width(unsigned char byte, bool bold);
/* The next line where there is room for that many times the size of the letters: whole words, or as many
 * letters as fit of one too long; at least one. NULL: the words are at their end. */
const char *sheet_next_line(struct arena *arena, const char **words, double room);

/* True where every number of it is finite and no more than ten kilometres off. */
bool sheet_is_sound(const struct sheet *sheet);

/* Left free all round a picture, PNG or SVG; paper has margins of its own. */
#define SHEET_EDGE_MM 5.0

/* --- writers ------------------------------------------------------------------------ */

/* As SVG 1.1, the same bytes for the same sheet everywhere. */
void sheet_write_svg(const struct sheet *sheet, struct text *out);

/* --- pages of paper (sheet/pages.c) --------------------------------------------------- */

/* Sheets in a row under one title. book: every page says in its foot of what it is (the sheet's title)
 * and "page 3 of 7". */
struct sheets {
    struct sheet **sheet;
    int count;
    const char *title;
    bool book;
};

/* The part of a sheet that is painted; what lies wholly outside is left out, or each of the pages of
 * a large chart would hold all of it. */
struct sheet_window {
    double x_mm, y_mm, x2_mm, y2_mm;
};

/* Shapes are cut off where the window ends. Words alone are painted where their anchor is within the
 * window, wherever they reach. */
enum sheet_painted { PAINT_ALL, PAINT_SHAPES, PAINT_WORDS };

/* What of a sheet is on a page: that window of it, its top left corner put there, so many times as large. */
struct sheet_part {
    const struct sheet *sheet;
    struct sheet_window window;
    double x_mm, y_mm, scale;
    enum sheet_painted painted;
};

enum { SHEET_PARTS_MAX = 7 };

struct sheet_page {
    double width_mm, height_mm; /* of the paper */
    struct sheet_part part[SHEET_PARTS_MAX];
    int nparts;
    struct sheet *margin; /* foot and ticks, on the paper as it is, over everything else */
};

struct sheet_book {
    const char *title;
    struct sheet_page *page;
    int npages;
};

/* Each sheet on A4 pages of its own, or several on one where they fit. A chart larger than a page,
 * upright or on its side, has its head and key on a page of their own and is cut between stitches,
 * with up to 10 mm of them drawn twice, its numbers on every page; what else is larger is cut
 * anywhere. Status: 0, or -1 reported. Notes: the sheets are used up where several go on a page. */
int sheet_lay_out(struct work *work, const struct sheets *sheets, struct sheet_book *book);

/* Report that it could not be drawn. Returned: -1. */
int sheet_refuse(struct work *work, const char *what, const char *todo);

/* Which way up something of that size stands on one page. */
enum sheet_way { PAGE_NONE, PAGE_UPRIGHT, PAGE_ON_SIDE };
enum sheet_way sheet_way_on_page(double width_mm, double height_mm);

/* Room for drawing on one A4 page, upright. */
#define SHEET_PAGE_WIDTH_MM 190.0
#define SHEET_PAGE_HEIGHT_MM 273.0
/* and on its side. */
#define SHEET_LONG_WIDTH_MM 277.0
#define SHEET_LONG_HEIGHT_MM 186.0

#endif

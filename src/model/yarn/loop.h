/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Yarn in one stitch, and slack in a float, from what she could measure. Pure.
 */
#ifndef STRANDWISE_LOOP_H
#define STRANDWISE_LOOP_H

enum loop_method {
    LOOP_FROM_TWO_YARNS, /* one uneven stranded row unravelled, both yarns: loop and slack */
    LOOP_FROM_PLAIN_ROW, /* a plain row unravelled */
    LOOP_FROM_MARKED,    /* a marked length knitted */
    LOOP_FROM_WEIGHT,    /* swatch weighed, with the ball's length per gram */
    LOOP_FROM_BALL,      /* ball weighed before and after */
    LOOP_FROM_SEVERAL,   /* several of these together */
    LOOP_FROM_GAUGE      /* stitch density alone */
};

/* The three models: NaN where nothing positive comes out.
 *
 * l = sqrt(Ks / (S R)): S, R per mm gives mm. Source: Munden 1959 through Spencer 2001. */
double loop_from_density_mm(double ks, double sts_per_mm, double rows_per_mm);

/* l = Kw / S. Same source; a cross-check. */
double loop_from_width_mm(double kw, double sts_per_mm);

/* l = a w + b h + c d, d the yarn's diameter. Source: Peirce 1947 (c 5.94; from memory). */
double loop_from_thickness_mm(double sts_per_mm, double rows_per_mm, double diameter_mm,
                              double widths, double rows, double diameters);

/* d = sqrt(4 / (pi * m_per_g * packing)): packing in g/cm^3. */
double loop_yarn_diameter_mm(double metres_per_gram, double packing_g_per_cm3);

#endif

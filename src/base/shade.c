/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shade.h"

#include <math.h>

static const double pi = 3.14159265358979323846;

static double channel_linear(unsigned char channel)
{
    double c = channel / 255.0;

    return c <= 0.04045 ? c / 12.92 : pow((c + 0.055) / 1.055, 2.4);
}

double shade_luminance(const unsigned char rgb[3])
{
    return 0.2126 * channel_linear(rgb[0]) + 0.7152 * channel_linear(rgb[1]) +
           0.0722 * channel_linear(rgb[2]);
}

double shade_contrast(double luminance_a, double luminance_b)
{
    double light = fmax(luminance_a, luminance_b), dark = fmin(luminance_a, luminance_b);

    return (light + 0.05) / (dark + 0.05);
}

static double lab_root(double t)
{
    const double epsilon = 216.0 / 24389.0, kappa = 24389.0 / 27.0;

    return t > epsilon ? cbrt(t) : (kappa * t + 16) / 116;
}

void shade_lab(const unsigned char rgb[3], double lab[3])
{
    /* IEC 61966-2-1. White is the sum of each row, so that greys come out with a = b = 0. */
    static const double matrix[3][3] = {
        {0.4124, 0.3576, 0.1805}, {0.2126, 0.7152, 0.0722}, {0.0193, 0.1192, 0.9505}};
    double root[3];

    for (int i = 0; i < 3; i++) {
        double sum = 0, white = 0;

        for (int j = 0; j < 3; j++) {
            sum += matrix[i][j] * channel_linear(rgb[j]);
            white += matrix[i][j];
        }
        root[i] = lab_root(sum / white);
    }
    lab[0] = 116 * root[1] - 16;
    lab[1] = 500 * (root[0] - root[1]);
    lab[2] = 200 * (root[1] - root[2]);
}

static double radians(double degrees)
{
    return degrees * pi / 180;
}

static double power7(double x)
{
    double cube = x * x * x;

    return cube * cube * x;
}

/* Hue angle in degrees, 0 to 360; 0 for a grey. */
static double hue_degrees(double a, double b)
{
    double hue = atan2(b, a) * 180 / pi;

    return hue < 0 ? hue + 360 : hue;
}

/* CIEDE2000 goes through chroma and hue with a stretched a axis: primed in the paper. */
struct polar {
    double lightness, chroma, hue;
    int grey; /* no hue */
};

static struct polar polar_of(const double lab[3], double stretch)
{
    double a = lab[1] * stretch, chroma = hypot(a, lab[2]);
    int grey = !(chroma > 0);

    return (struct polar){lab[0], chroma, grey ? 0 : hue_degrees(a, lab[2]), grey};
}

/* Equations 10 and 14 of the paper: difference and mean round the circle. */
static void hue_between(struct polar p, struct polar q, double *difference, double *mean)
{
    double d = q.hue - p.hue, sum = p.hue + q.hue;

    if (p.grey || q.grey) {
        *difference = 0;
        *mean = sum;
        return;
    }
    *mean = sum / 2;
    if (fabs(d) > 180)
        *mean = sum < 360 ? (sum + 360) / 2 : (sum - 360) / 2;
    if (d > 180)
        d -= 360;
    else if (d < -180)
        d += 360;
    *difference = d;
}

double shade_difference(const double lab_a[3], const double lab_b[3])
{
    const double pow25 = power7(25);
    double chroma_mean = (hypot(lab_a[1], lab_a[2]) + hypot(lab_b[1], lab_b[2])) / 2;
    double chroma7 = power7(chroma_mean);
    double stretch = 1 + 0.5 * (1 - sqrt(chroma7 / (chroma7 + pow25)));
    struct polar p = polar_of(lab_a, stretch), q = polar_of(lab_b, stretch);
    double hue_difference, hue, lightness = (p.lightness + q.lightness) / 2 - 50;
    double chroma = (p.chroma + q.chroma) / 2;
    double t, rotation, l, c, h;

    hue_between(p, q, &hue_difference, &hue);
    t = 1 - 0.17 * cos(radians(hue - 30)) + 0.24 * cos(radians(2 * hue)) +
        0.32 * cos(radians(3 * hue + 6)) - 0.20 * cos(radians(4 * hue - 63));
    chroma7 = power7(chroma);
    rotation = -2 * sqrt(chroma7 / (chroma7 + pow25)) *
               sin(radians(60 * exp(-((hue - 275) / 25) * ((hue - 275) / 25))));
    l = (q.lightness - p.lightness) /
        (1 + 0.015 * lightness * lightness / sqrt(20 + lightness * lightness));
    c = (q.chroma - p.chroma) / (1 + 0.045 * chroma);
    h = 2 * sqrt(p.chroma * q.chroma) * sin(radians(hue_difference / 2)) / (1 + 0.015 * chroma * t);
    return sqrt(fmax(0, l * l + c * c + h * h + rotation * c * h));
}

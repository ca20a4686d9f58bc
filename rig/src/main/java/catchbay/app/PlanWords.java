package catchbay.app;

import catchbay.plan.PlanForecast;
import catchbay.plan.PointForecast;
import catchbay.plan.Step;
import catchbay.plan.TestPlan;
import catchbay.quantity.Numeral;
import catchbay.quantity.Ratio;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;

import java.io.PrintStream;
import java.math.BigDecimal;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/** A plan's forecast in words for a person at a terminal. */
final class PlanWords {

    private static final String ROW = "  %8s %6s %7s %7s %8s %7s %6s %3s %6s %7s";

    /** What {@link #ROW} takes. */
    private static final int ROW_COLUMNS = 76;

    private static final String[] NAMES = {
        "gal/min", "mph", "catch s", "gal", "pulses", "catches", "+- %", "met", "min", "tank"
    };

    private PlanWords() {}

    static void print(PrintStream out, PlanForecast forecast) {
        print(out, forecast, Words.columns());
    }

    /**
     * @param columns how wide the terminal is; where the table does not fit, each of its figures
     *     has a row of its own
     */
    static void print(PrintStream out, PlanForecast forecast, int columns) {
        TestPlan plan = forecast.plan();
        Words.wrapped(
                        "",
                        2,
                        "Plan for truck "
                                + plan.truck()
                                + ", "
                                + forecast.catches()
                                + " catches expected",
                        columns)
                .forEach(out::println);
        Words.line(out, "order", order(plan.order()));
        Words.line(
                out,
                "wanted",
                "meter error of each point's mean good to " + percent(plan.wanted()) + " % (95 %)");
        out.println();
        boolean table = columns >= ROW_COLUMNS;
        if (table) {
            out.println(String.format(Locale.ROOT, ROW, (Object[]) NAMES).stripTrailing());
        }
        rows(out, forecast, false, table);
        if (!forecast.verification().isEmpty()) {
            out.println("  verification, with the new constant:");
            rows(out, forecast, true, table);
        }
        means(out, forecast);
        out.println();
        whole(out, forecast);
        orders(out, forecast);
        for (String refusal : forecast.allRefusals()) {
            out.println();
            Words.paragraph(out, "CANNOT START. " + refusal);
        }
        for (String warning : forecast.allWarnings()) {
            out.println();
            Words.paragraph(out, warning);
        }
    }

    /** Points of a plan that names outlets stand below the outlet that they are caught through. */
    private static void rows(
            PrintStream out, PlanForecast forecast, boolean verifying, boolean table) {
        Optional<String> said = Optional.empty();
        for (PointForecast point : verifying ? forecast.verification() : forecast.points()) {
            if (forecast.plan().namesOutlets()) {
                Optional<String> through =
                        Optional.of(point.point().outlet().orElse("all its outlets"));
                if (!through.equals(said)) {
                    out.println(Words.printable("  through " + through.get() + ":"));
                }
                said = through;
            }
            String[] figures = figures(forecast, point, verifying);
            if (table) {
                out.println(String.format(Locale.ROOT, ROW, (Object[]) figures).stripTrailing());
            } else {
                listed(out, figures);
            }
        }
    }

    private static void listed(PrintStream out, String[] figures) {
        for (int i = 0; i < figures.length; i++) {
            out.println(
                    String.format(
                            Locale.ROOT,
                            i == 0 ? "  %-9s %s" : "    %-7s %s",
                            NAMES[i],
                            figures[i]));
        }
    }

    private static String order(TestPlan.Order order) {
        return switch (order) {
            case TestPlan.Order.Up() -> "up, from the smallest flow";
            case TestPlan.Order.Down() -> "down, from the largest flow";
            case TestPlan.Order.UpAndDown() -> "up and down again, every point twice";
            case TestPlan.Order.Shuffled(long seed) -> "random, seed " + seed;
        };
    }

    /** In the order of {@link #NAMES}. */
    private static String[] figures(PlanForecast forecast, PointForecast point, boolean verifying) {
        double level = 0;
        long emptying = 0;
        long spent = 0;
        for (Step step : forecast.steps()) {
            switch (step) {
                case Step.Drained _ -> emptying = step.nanos();
                case Step.Caught caught -> {
                    // A point that is given twice has two rows: each has its own catches.
                    if (caught.verifying() == verifying && caught.point() == point) {
                        level = Math.max(level, caught.inTank().litres());
                        spent += emptying + step.nanos();
                    }
                    emptying = 0;
                }
                case Step.Refilled _,
                        Step.PointSet _,
                        Step.OutletSet _,
                        Step.ConstantEntered _ -> {}
            }
        }
        return new String[] {
            number(point.flow().perMinute(VolumeUnit.US_GALLON)),
            number(point.speed().milesPerHour()),
            number(point.time().catchNanos() / 1e9),
            number(point.caught().usGallons()),
            point.pulses().map(n -> String.format(Locale.ROOT, "%.0f", n)).orElse("-"),
            String.valueOf(point.repeats()),
            point.mean().map(PlanWords::percent).orElse("-"),
            point.met() ? "yes" : "NO",
            minutes(spent),
            number(new Volume(level).usGallons())
        };
    }

    /** By what each point is measured. */
    private static void means(PrintStream out, PlanForecast forecast) {
        List<PointForecast> all =
                Stream.concat(forecast.points().stream(), forecast.verification().stream())
                        .toList();
        List<String> names = all.stream().map(point -> point.way().name()).distinct().toList();
        if (names.size() == 1) {
            Words.line(out, "measured by", Words.printable(names.getFirst()));
        }
        Set<String> said = new HashSet<>();
        for (PointForecast point : all) {
            String flow = number(point.flow().perMinute(VolumeUnit.US_GALLON)) + " gal/min";
            String by = "by " + point.way().name();
            if (names.size() > 1 && said.add(flow + by)) {
                Words.line(out, flow, Words.printable(by));
            }
        }
    }

    private static void whole(PrintStream out, PlanForecast forecast) {
        TestPlan.Liquid liquid = forecast.plan().liquid();
        Words.line(
                out,
                "time",
                minutes(forecast.nanos())
                        + " min in all, "
                        + minutes(forecast.plan().times().checklistNanos())
                        + " of them until the checklist is confirmed; "
                        + minutes(forecast.nanosMost())
                        + " min with as many repeats as are allowed");
        Words.line(
                out,
                "each catch",
                forecast.points().stream().findFirst().map(PlanWords::parts).orElseThrow());
        Words.line(
                out,
                "liquid drawn",
                gallons(forecast.drawn())
                        + liquid.onTruck()
                                .map(carried -> "; the truck carries " + gallons(carried))
                                .orElse("")
                        + (liquid.recirculated().value() > 0
                                ? " and gets back " + percent(liquid.recirculated()) + " %"
                                : ""));
        forecast.warmedKelvin()
                .ifPresent(kelvin ->
                        Words.line(
                                out,
                                "warming",
                                "at most "
                                        + number(kelvin)
                                        + " K of "
                                        + number(forecast.plan().warming().kelvinMax())
                                        + " K allowed"));
        forecast.plan()
                .granular()
                .ifPresent(side -> Words.line(out, "granular side", granular(side)));
        forecast.tankRoom().ifPresent(room -> Words.line(out, "tank", tank(forecast, room)));
    }

    /** How a plan writes down a truck's granular side. */
    static String granular(TestPlan.Granular side) {
        return (side.on() ? "on" : "off")
                + side.gate().map(gate -> "; gate " + gate).orElse("")
                + side.hopper().map(hopper -> "; hopper " + hopper).orElse("");
    }

    /** What the scale carries is not what the tank holds, and is not told as if it were. */
    private static String tank(PlanForecast forecast, Volume room) {
        Optional<Volume> said = forecast.plan().tank().room();
        if (said.isEmpty()) {
            return "what it holds is not said; the scale under it carries " + gallons(room);
        }
        return "holds "
                + gallons(said.get())
                + (room.compareTo(said.get()) < 0
                        ? "; the scale under it carries " + gallons(room) + " of them"
                        : "");
    }

    private static String parts(PointForecast point) {
        PointForecast.CatchTime time = point.time();
        return "at "
                + number(point.flow().perMinute(VolumeUnit.US_GALLON))
                + " gal/min, in s: purge "
                + number(time.purgeNanos() / 1e9)
                + ", settle "
                + number(time.settleNanos() / 1e9)
                + ", diverter "
                + number(time.travelNanos() / 1e9)
                + ", catch "
                + number(time.catchNanos() / 1e9)
                + ", drip "
                + number(time.dripNanos() / 1e9)
                + ", rest "
                + number(time.restNanos() / 1e9)
                + (time.answerNanos() > 0 ? ", answers " + number(time.answerNanos() / 1e9) : "");
    }

    /** What people are told to do between the catches. */
    private static void orders(PrintStream out, PlanForecast forecast) {
        int number = 1;
        boolean each = forecast.plan().tank().drainedEach();
        for (Step step : forecast.steps()) {
            switch (step) {
                case Step.Caught _ -> number++;
                case Step.Drained drained -> {
                    if (!each) {
                        before(
                                out,
                                number,
                                emptying(drained)
                                        + drained.volume()
                                                .map(PlanWords::gallons)
                                                .map(held -> ", " + held)
                                                .orElse(", whatever is in it"));
                    }
                }
                case Step.Refilled refilled ->
                        before(out, number, "refill the truck with " + gallons(refilled.volume()));
                case Step.PointSet set ->
                        before(
                                out,
                                number,
                                "set the controller to "
                                        + number(set.point().speed().milesPerHour())
                                        + " mph");
                case Step.OutletSet set ->
                        before(
                                out,
                                number,
                                set.outlet()
                                        .map(which ->
                                                Words.printable(
                                                        "let liquid run through '"
                                                                + which
                                                                + "' alone"))
                                        .orElse("open all outlets"));
                case Step.ConstantEntered _ -> before(out, number, "enter the new constant");
            }
        }
        if (each) {
            forecast.steps().stream()
                    .filter(Step.Drained.class::isInstance)
                    .map(Step.Drained.class::cast)
                    .findFirst()
                    .ifPresent(drained ->
                            Words.line(
                                    out,
                                    "before each catch",
                                    emptying(drained) + " and let it drip"));
        }
    }

    private static String emptying(Step.Drained drained) {
        return drained.byHand() ? "empty the tank by hand" : "drain the tank";
    }

    private static void before(PrintStream out, int number, String what) {
        Words.line(out, "before catch " + number, what);
    }

    /** Four digits, without zeros that say nothing. */
    private static String number(double number) {
        return Numeral.of(new BigDecimal(number), 4);
    }

    private static String percent(Ratio ratio) {
        return String.format(Locale.ROOT, "%.3f", ratio.percent());
    }

    private static String gallons(Volume volume) {
        return number(volume.usGallons()) + " US gal";
    }

    private static String minutes(long nanos) {
        return String.format(Locale.ROOT, "%.1f", nanos / 60e9);
    }
}

package catchbay.app;

import catchbay.metrology.Repeatability;
import catchbay.plan.TestPlan;
import catchbay.quantity.VolumeUnit;
import catchbay.record.DocumentException;
import catchbay.record.Fields;
import catchbay.run.RunSetup;
import catchbay.run.SetupCheck;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.PrintStream;
import java.math.BigDecimal;
import java.math.MathContext;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * Composes a plan by questions. Each tells its unit, what may be answered and what an empty line
 * stands for; an answer that cannot be is refused at once and asked for again. Defaults are common
 * practice, no source, but for those that are the settings'.
 */
final class PlanQuestions {

    private static final String STOP = "stop";
    private static final String NONE = "none";
    private static final Pattern NUMBER = Pattern.compile("\\d{1,9}(\\.\\d{0,9})?");

    private static final double MPH_MAX = 150;
    private static final double FLOW_MAX = 500;
    private static final double RATE_MAX = 1000;
    private static final double SALT_MAX = 5000;
    private static final double LANES_MAX = 20;
    private static final double VOLUME_MAX = 100_000;
    private static final double WATTS_MAX = 1e6;

    private final Settings bay;
    private final BufferedReader answers;
    private final PrintStream questions;
    private final StringBuilder plan = new StringBuilder();

    /**
     * @param answers lines that a person types, or a pipe
     * @param questions where they are asked
     */
    PlanQuestions(Settings bay, BufferedReader answers, PrintStream questions) {
        this.bay = bay;
        this.answers = answers;
        this.questions = questions;
    }

    /**
     * Asks for all of it.
     *
     * @return the plan as TOML
     * @throws DocumentException when the answers end before the questions do
     */
    String composed() throws IOException {
        List<String> trucks = bay.trucks();
        String truck = word("Which truck?", trucks, trucks.getFirst());
        RunSetup usual = bay.ways(Optional.of(truck), LocalDate.EPOCH).usual();
        line("truck = " + quoted(truck));
        line("wanted_percent = " + wanted());
        StringBuilder sections = new StringBuilder();
        boolean preWet = application(usual, sections);
        String unit = word("Are the points speeds or flows?", List.of("speeds", "flows"), "speeds");
        boolean speeds = unit.equals("speeds");
        List<BigDecimal> points = points(usual, speeds);
        String order =
                word(
                        "In which order (up-and-down shows hysteresis)?",
                        List.of("up", "down", "up-and-down"),
                        "up");
        line("order = " + quoted(order));
        line("points = " + listed(points, speeds));
        plan.append(sections);
        repeats();
        tank();
        liquid();
        if (preWet) {
            granular();
        }
        verification(points, speeds);
        return plan.toString();
    }

    // What is asked
    // --------------------------------------------------------------------------------------------

    private BigDecimal wanted() throws IOException {
        return number(
                "How well shall each point's mean meter error be known, at 95 %, in per cent?",
                new Range(Double.MIN_VALUE, 100), new BigDecimal("0.5"));
    }

    /** Writes the section of what is put down; true where it is pre-wetting. */
    private boolean application(RunSetup usual, StringBuilder sections) throws IOException {
        String kind =
                word(
                        "What is put down: as in the settings, directly, or onto salt?",
                        List.of("settings", "direct", "pre-wet"),
                        "settings");
        if (kind.equals("settings")) {
            return usual.asked().application() instanceof RunSetup.Application.PreWet;
        }
        boolean direct = kind.equals("direct");
        BigDecimal rate =
                direct
                        ? number(
                                "Rate, in US gal on a lane-mile?",
                                new Range(Double.MIN_VALUE, RATE_MAX),
                                new BigDecimal("40"))
                        : number(
                                "Rate, in US gal on a short ton of salt?",
                                new Range(Double.MIN_VALUE, RATE_MAX),
                                new BigDecimal("8"));
        BigDecimal lanes =
                number("How many lanes?", new Range(Double.MIN_VALUE, LANES_MAX), BigDecimal.ONE);
        sections.append("\n[application]\n")
                .append(direct ? "rate_us_gal_per_lane_mile = " : "rate_us_gal_per_ton = ")
                .append(rate.toPlainString())
                .append("\nlanes = ")
                .append(lanes.toPlainString())
                .append('\n');
        if (!direct) {
            BigDecimal salt =
                    number(
                            "Salt, in lb on a lane-mile?",
                            new Range(Double.MIN_VALUE, SALT_MAX),
                            new BigDecimal("250"));
            sections.append("salt_lb_per_lane_mile = ").append(salt.toPlainString()).append('\n');
        }
        return !direct;
    }

    /** Half, once and twice of what the settings ask for, where nothing else is said. */
    private List<BigDecimal> points(RunSetup usual, boolean speeds) throws IOException {
        double asked =
                speeds
                        ? usual.asked().speed().milesPerHour()
                        : SetupCheck.askedFlow(usual.asked()).perMinute(VolumeUnit.US_GALLON);
        List<BigDecimal> usually = new ArrayList<>();
        for (double times : new double[] {0.5, 1, 2}) {
            double number = Math.clamp(times * asked, 0.01, most(speeds));
            usually.add(rounded(number));
        }
        return numbers(
                "Which "
                        + (speeds ? "speeds, in mph" : "flows, in US gal/min")
                        + ", with spaces between them?",
                speeds,
                usually.stream().distinct().toList(),
                false);
    }

    private void repeats() throws IOException {
        int least =
                number(
                                "At least how many catches at each point?",
                                Range.whole(Repeatability.RUNS_MIN, Repeatability.RUNS_MAX),
                                BigDecimal.valueOf(Repeatability.RUNS_MIN))
                        .intValueExact();
        int most =
                number(
                                "At most how many, until they agree?",
                                Range.whole(least, Repeatability.RUNS_MAX),
                                BigDecimal.valueOf(Math.max(least, 10)))
                        .intValueExact();
        section("repeats");
        line("least = " + least);
        line("most = " + most);
    }

    private void tank() throws IOException {
        BigDecimal room =
                number(
                        "What does the catch tank hold, in US gal (0 = what the scale carries)?",
                        new Range(0, VOLUME_MAX),
                        BigDecimal.ZERO);
        String drained =
                word(
                        "When is it drained: after each catch, or when it is full?",
                        List.of("each", "when-full"),
                        "each");
        section("tank");
        if (room.signum() > 0) {
            line("room_us_gal = " + room.toPlainString());
        }
        line("drained = " + quoted(drained));
    }

    private void liquid() throws IOException {
        BigDecimal carried =
                number(
                        "What liquid does the truck carry when full, in US gal (0 = not known)?",
                        new Range(0, VOLUME_MAX),
                        BigDecimal.ZERO);
        BigDecimal reserve =
                carried.signum() == 0
                        ? BigDecimal.ZERO
                        : number(
                                "How much of it must stay, so that the pump draws no air, in US"
                                        + " gal?",
                                new Range(0, carried.doubleValue()),
                                BigDecimal.ZERO);
        BigDecimal back =
                number(
                        "How much of what is drawn does the truck get back after a catch, in per"
                                + " cent?",
                        new Range(0, 100),
                        BigDecimal.ZERO);
        BigDecimal watts =
                back.signum() == 0 || carried.signum() == 0
                        ? BigDecimal.ZERO
                        : number(
                                "What do pumps put into it at most, in W (0 = not known)?",
                                new Range(0, WATTS_MAX),
                                BigDecimal.ZERO);
        section("liquid");
        if (carried.signum() > 0) {
            line("on_truck_us_gal = " + carried.toPlainString());
            line("reserve_us_gal = " + reserve.toPlainString());
        }
        line("recirculated_percent = " + back.toPlainString());
        if (watts.signum() > 0) {
            line("pump_watts = " + watts.toPlainString());
        }
    }

    private void granular() throws IOException {
        String on = word("Is the granular channel on?", List.of("yes", "no"), "yes");
        String gate = text("How does its gate stand, in words?", "closed");
        String hopper = text("What is in its hopper, in words?", "empty");
        section("granular");
        line("on = " + on.equals("yes"));
        line("gate = " + quoted(gate));
        line("hopper = " + quoted(hopper));
    }

    /**
     * The first point, which proves that the constant was entered, and one half way to the next.
     */
    private void verification(List<BigDecimal> points, boolean speeds) throws IOException {
        List<BigDecimal> usually = new ArrayList<>(List.of(points.getFirst()));
        if (points.size() > 1) {
            usually.add(rounded(points.get(0).add(points.get(1)).doubleValue() / 2));
        }
        List<BigDecimal> chosen =
                numbers(
                        "Which "
                                + (speeds ? "speeds, in mph" : "flows, in US gal/min")
                                + ", prove the new constant (one of the points and one other;"
                                + " none = no verification)?",
                        speeds,
                        usually,
                        true);
        if (!chosen.isEmpty()) {
            section("verification");
            line("points = " + listed(chosen, speeds));
        }
    }

    // How it is asked
    // --------------------------------------------------------------------------------------------

    /**
     * What a number may be, both ends allowed.
     *
     * @param least {@link Double#MIN_VALUE} for anything above zero
     */
    private record Range(double least, double most, boolean whole) {

        Range(double least, double most) {
            this(least, most, false);
        }

        static Range whole(int least, int most) {
            return new Range(least, most, true);
        }

        BigDecimal of(String answer) {
            if (!NUMBER.matcher(answer).matches()) {
                throw refused(answer);
            }
            BigDecimal number = plain(new BigDecimal(answer));
            double value = number.doubleValue();
            if (value < least || value > most || whole && number.stripTrailingZeros().scale() > 0) {
                throw refused(answer);
            }
            return number;
        }

        private IllegalArgumentException refused(String answer) {
            return new IllegalArgumentException("'" + answer + "' is no number " + words());
        }

        String words() {
            String end = rounded(most).toPlainString();
            String start =
                    least == Double.MIN_VALUE
                            ? "above 0"
                            : "from " + rounded(least).toPlainString();
            return (whole ? "without decimals " : "") + start + " to " + end;
        }
    }

    private BigDecimal number(String question, Range range, BigDecimal otherwise)
            throws IOException {
        return answer(question, range.words(), otherwise.toPlainString(), range::of);
    }

    private List<BigDecimal> numbers(
            String question, boolean speeds, List<BigDecimal> usually, boolean mayBeNone)
            throws IOException {
        Range range = new Range(Double.MIN_VALUE, most(speeds));
        return answer(
                question,
                "1 to " + TestPlan.POINTS_MAX + " numbers, each " + range.words(),
                usually.stream().map(BigDecimal::toPlainString).collect(Collectors.joining(" ")),
                given -> {
                    if (mayBeNone && given.equals(NONE)) {
                        return List.of();
                    }
                    String[] words = given.split("\\s+");
                    if (words.length > TestPlan.POINTS_MAX) {
                        throw new IllegalArgumentException(
                                words.length + " are more than " + TestPlan.POINTS_MAX);
                    }
                    List<BigDecimal> numbers = new ArrayList<>();
                    for (String word : words) {
                        numbers.add(range.of(word));
                    }
                    return numbers;
                });
    }

    private String word(String question, List<String> known, String otherwise) throws IOException {
        String all = String.join(", ", known);
        return answer(
                question,
                known.size() == 1 ? all : "one of " + all,
                otherwise,
                given -> {
                    if (!known.contains(given)) {
                        throw new IllegalArgumentException("'" + given + "' is none of " + all);
                    }
                    return given;
                });
    }

    private String text(String question, String otherwise) throws IOException {
        return answer(
                question,
                "up to " + Fields.TEXT_LENGTH_MAX + " characters",
                otherwise,
                given -> {
                    if (given.length() > Fields.TEXT_LENGTH_MAX) {
                        throw new IllegalArgumentException(
                                given.length() + " characters are too many");
                    }
                    return given;
                });
    }

    private <T> T answer(String question, String range, String otherwise, Function<String, T> check)
            throws IOException {
        while (true) {
            questions.print(
                    Words.printable(question + " [" + range + "; Enter = " + otherwise + "] "));
            questions.flush();
            String line = answers.readLine();
            if (line == null || line.strip().equals(STOP)) {
                questions.println();
                throw new DocumentException(
                        (line == null ? "The answers ended" : "The questions were stopped")
                                + " before the plan was whole, so nothing was written; call the"
                                + " command again and answer every question.");
            }
            try {
                String given = line.strip();
                refuseUnreadable(given);
                return check.apply(given.isEmpty() ? otherwise : given);
            } catch (IllegalArgumentException refusal) {
                questions.println(Words.printable(refusal.getMessage() + "; give " + range + "."));
            }
        }
    }

    private static void refuseUnreadable(String given) {
        if (given.length() > 10 * Fields.TEXT_LENGTH_MAX
                || given.chars().anyMatch(Character::isISOControl)) {
            throw new IllegalArgumentException(
                    "An answer is one line of printable characters, and not so long");
        }
    }

    // How it is written
    // ------------------------------------------------------------------------------------------

    private static double most(boolean speeds) {
        return speeds ? MPH_MAX : FLOW_MAX;
    }

    private static BigDecimal rounded(double number) {
        return plain(new BigDecimal(number, new MathContext(6)));
    }

    /** As TOML reads it: no zeros that a person would not write. */
    private static BigDecimal plain(BigDecimal number) {
        return new BigDecimal(number.stripTrailingZeros().toPlainString());
    }

    private static String listed(List<BigDecimal> points, boolean speeds) {
        String key = speeds ? "speed_mph" : "flow_us_gal_per_min";
        return points.stream()
                .map(point -> "    { " + key + " = " + point.toPlainString() + " },\n")
                .collect(Collectors.joining("", "[\n", "]"));
    }

    private void section(String name) {
        line("");
        line("[" + name + "]");
    }

    private void line(String text) {
        plan.append(text).append('\n');
    }

    private static String quoted(String text) {
        return "\"" + text.replace("\\", "\\\\").replace("\"", "\\\"") + "\"";
    }
}

package catchbay.app;

import catchbay.metrology.Repeatability;
import catchbay.plan.TestPlan;
import catchbay.plan.Ways;
import catchbay.quantity.FlowRate;
import catchbay.record.DocumentException;
import catchbay.record.Fields;
import catchbay.run.RunSetup;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.PrintStream;
import java.math.BigDecimal;
import java.math.MathContext;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Composes a plan by questions. Each tells its unit, what may be answered and what an empty line
 * stands for; an answer that cannot be is refused at once and asked for again. Defaults are common
 * practice, no source, but for those that are the settings'.
 */
final class PlanQuestions {

    private static final String STOP = "stop";
    private static final String NONE = "none";
    private static final String RATE = "rate";
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
    private final Screen screen;
    private final StringBuilder plan = new StringBuilder();

    /**
     * @param answers lines that a person types, or a pipe
     * @param questions where they are asked
     * @param screen says in which rows, and prints nothing: an answer stands behind its question
     */
    PlanQuestions(Settings bay, BufferedReader answers, PrintStream questions, Screen screen) {
        this.bay = bay;
        this.answers = answers;
        this.questions = questions;
        this.screen = screen;
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
        Ways ways = bay.ways(Optional.of(truck), LocalDate.EPOCH);
        line("truck = " + quoted(truck));
        line("wanted_percent = " + wanted());
        Ground ground = ground(ways);
        String order =
                word(
                        "In which order (up-and-down shows hysteresis)?",
                        List.of("up", "down", "up-and-down"),
                        "up");
        line("order = " + quoted(order));
        line("points = " + listed(ground.points, ground.speeds));
        plan.append(ground.section);
        repeats();
        tank();
        liquid();
        if (ground.application instanceof RunSetup.Application.PreWet) {
            granular();
        }
        verification(ground);
        return plan.toString();
    }

    /**
     * What is put down at which points.
     *
     * @param section what is put down as a section of the plan; empty = as in the settings
     * @param reach what of it the bay can measure
     */
    private record Ground(
            RunSetup.Application application,
            String section,
            boolean speeds,
            List<BigDecimal> points,
            PlanReach reach) {}

    /** Until there are points: the rate decides by what flow a point is measured. */
    private Ground ground(Ways ways) throws IOException {
        while (true) {
            String section = application(ways);
            RunSetup.Application application =
                    section.isEmpty()
                            ? ways.usual().asked().application()
                            : PlanReach.application(section);
            boolean speeds =
                    word("Are the points speeds or flows?", List.of("speeds", "flows"), "speeds")
                            .equals("speeds");
            PlanReach reach = new PlanReach(ways, application, speeds, most(speeds));
            List<BigDecimal> points = points(reach, speeds);
            if (!points.isEmpty()) {
                return new Ground(application, section, speeds, points, reach);
            }
        }
    }

    // What is asked
    // --------------------------------------------------------------------------------------------

    private BigDecimal wanted() throws IOException {
        return number(
                "How well shall each point's mean meter error be known, at 95 %, in per cent?",
                new Range(Double.MIN_VALUE, 100), new BigDecimal("0.5"));
    }

    /** What is put down, as a section of a plan; empty where the settings hold. */
    private String application(Ways ways) throws IOException {
        String kind =
                word(
                        "What is put down: as in the settings, directly, or onto salt?",
                        List.of("settings", "direct", "pre-wet"),
                        "settings");
        return switch (kind) {
            case "direct" -> direct(ways);
            case "pre-wet" -> preWet(ways);
            default -> "";
        };
    }

    private String direct(Ways ways) throws IOException {
        BigDecimal rate =
                number(
                        "Rate, in US gal on a lane-mile?",
                        new Range(Double.MIN_VALUE, RATE_MAX),
                        measurable(
                                ways,
                                "US gal on a lane-mile",
                                new BigDecimal("40"),
                                BigDecimal.ONE,
                                RATE_MAX,
                                tried -> direct(tried, BigDecimal.ONE)));
        return direct(rate, lanes());
    }

    private String preWet(Ways ways) throws IOException {
        BigDecimal rate =
                number(
                        "Rate, in US gal on a short ton of salt?",
                        new Range(Double.MIN_VALUE, RATE_MAX),
                        new BigDecimal("8"));
        BigDecimal lanes = lanes();
        BigDecimal salt =
                number(
                        "Salt, in lb on a lane-mile?",
                        new Range(Double.MIN_VALUE, SALT_MAX),
                        measurable(
                                ways,
                                "lb on a lane-mile",
                                new BigDecimal("250"),
                                new BigDecimal("50"),
                                SALT_MAX,
                                tried -> preWet(rate, lanes, tried)));
        return preWet(rate, lanes, salt);
    }

    private BigDecimal lanes() throws IOException {
        return number("How many lanes?", new Range(Double.MIN_VALUE, LANES_MAX), BigDecimal.ONE);
    }

    private static String direct(BigDecimal rate, BigDecimal lanes) {
        return "\n[application]\nrate_us_gal_per_lane_mile = "
                + rate.toPlainString()
                + "\nlanes = "
                + lanes.toPlainString()
                + '\n';
    }

    private static String preWet(BigDecimal rate, BigDecimal lanes, BigDecimal salt) {
        return "\n[application]\nrate_us_gal_per_ton = "
                + rate.toPlainString()
                + "\nlanes = "
                + lanes.toPlainString()
                + "\nsalt_lb_per_lane_mile = "
                + salt.toPlainString()
                + '\n';
    }

    /**
     * The usual figure, or in its place, said so, the one nearest to it at which the bay can
     * measure what the settings' speed asks for.
     *
     * @param step others are whole multiples of it
     * @param section what is put down with such a figure
     */
    private BigDecimal measurable(
            Ways ways,
            String unit,
            BigDecimal usual,
            BigDecimal step,
            double most,
            Function<BigDecimal, String> section) {
        double mph = ways.usual().asked().speed().milesPerHour();
        PlanReach reach =
                new PlanReach(ways, PlanReach.application(section.apply(usual)), true, MPH_MAX);
        FlowRate flow = reach.flow(mph);
        RunSetup.MeasureBy by = ways.usual().plan().measureBy();
        if (ways.reach(flow, by)) {
            return usual;
        }
        // The flow is in proportion to the figure.
        double perOne = flow.litresPerSecond() / usual.doubleValue();
        Optional<BigDecimal> nearest =
                Stream.iterate(step, next -> next.doubleValue() <= most, next -> next.add(step))
                        .filter(tried -> ways.reach(new FlowRate(perOne * tried.doubleValue()), by))
                        .min(Comparator.comparing(tried -> tried.subtract(usual).abs()));
        nearest.ifPresent(other ->
                say(
                        "The usual "
                                + usual.toPlainString()
                                + " "
                                + unit
                                + " would ask for "
                                + PlanReach.gallons(flow)
                                + " at the settings' "
                                + rounded(mph).toPlainString()
                                + " mph, and no reference meter of the bay is certified there ("
                                + ways.ranges()
                                + "): "
                                + other.toPlainString()
                                + " can be measured."));
        return nearest.orElse(usual);
    }

    /** None where the rate is to be asked for again. */
    private List<BigDecimal> points(PlanReach reach, boolean speeds) throws IOException {
        return numbers(
                "Which "
                        + (speeds ? "speeds, in mph" : "flows, in US gal/min")
                        + ", with spaces between them ('rate' asks for the rate again)?",
                speeds,
                reach.usual().stream().map(PlanQuestions::rounded).distinct().toList(),
                RATE,
                reach);
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

    /** When a tank is full nobody knows whose room is not known. */
    private void tank() throws IOException {
        BigDecimal room =
                number(
                        "What does the catch tank hold below its float, in US gal (0 = not known)?",
                        new Range(0, VOLUME_MAX),
                        BigDecimal.ZERO);
        section("tank");
        if (room.signum() == 0) {
            say(
                    "Then it is drained before each catch: when it is full is not known, and what"
                            + " the scale carries says nothing of that.");
            line("drained = " + quoted("each"));
            return;
        }
        line("room_us_gal = " + room.toPlainString());
        line(
                "drained = "
                        + quoted(
                                word(
                                        "When is it drained: before each catch, or when it is"
                                                + " full?",
                                        List.of("each", "when-full"),
                                        "each")));
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
    private void verification(Ground ground) throws IOException {
        List<BigDecimal> points = ground.points;
        List<BigDecimal> usually = new ArrayList<>(List.of(points.getFirst()));
        if (points.size() > 1) {
            BigDecimal between = rounded(points.get(0).add(points.get(1)).doubleValue() / 2);
            if (ground.reach.reaches(between.doubleValue())) {
                usually.add(between);
            }
        }
        List<BigDecimal> chosen =
                numbers(
                        "Which "
                                + (ground.speeds ? "speeds, in mph" : "flows, in US gal/min")
                                + ", prove the new constant (one of the points and one other;"
                                + " none = no verification)?",
                        ground.speeds,
                        usually,
                        NONE,
                        ground.reach);
        if (!chosen.isEmpty()) {
            section("verification");
            line("points = " + listed(chosen, ground.speeds));
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
            String pointed = answer.replace(',', '.');
            if (!pointed.equals(answer) && NUMBER.matcher(pointed).matches()) {
                throw new IllegalArgumentException(
                        "'" + answer + "' has a comma: use a point, as in " + pointed);
            }
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

    /**
     * Points, each given once, that the bay can measure.
     *
     * @param none the word that stands for none of them
     */
    private List<BigDecimal> numbers(
            String question, boolean speeds, List<BigDecimal> usually, String none, PlanReach reach)
            throws IOException {
        Range range = new Range(Double.MIN_VALUE, most(speeds));
        return answer(
                question,
                "1 to " + TestPlan.POINTS_MAX + " numbers, each " + range.words(),
                usually.stream().map(BigDecimal::toPlainString).collect(Collectors.joining(" ")),
                given -> {
                    if (given.equalsIgnoreCase(none)) {
                        return List.of();
                    }
                    String[] words = given.split("\\s+");
                    if (words.length > TestPlan.POINTS_MAX) {
                        throw new IllegalArgumentException(
                                words.length + " are more than " + TestPlan.POINTS_MAX);
                    }
                    List<BigDecimal> numbers = new ArrayList<>();
                    for (String word : words) {
                        BigDecimal number = range.of(word);
                        if (numbers.contains(number)) {
                            throw twice(number);
                        }
                        numbers.add(number);
                    }
                    reach.refusal(numbers)
                            .ifPresent(why -> {
                                throw new IllegalArgumentException(why);
                            });
                    return numbers;
                });
    }

    private static IllegalArgumentException twice(BigDecimal number) {
        return new IllegalArgumentException(
                number.toPlainString()
                        + " is given twice, and each point is asked for once: how often it is"
                        + " caught, and an order up and down, are questions of their own");
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
            questions.print(shown(question + " [" + range + "; Enter = " + otherwise + "]") + " ");
            questions.flush();
            String line = answers.readLine();
            if (line == null || line.strip().equalsIgnoreCase(STOP)) {
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
                say(refusal.getMessage() + "; give " + range + ".");
            }
        }
    }

    private void say(String sentence) {
        questions.println(shown(sentence));
    }

    private String shown(String text) {
        return screen.wrapped(Words.printable(text));
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

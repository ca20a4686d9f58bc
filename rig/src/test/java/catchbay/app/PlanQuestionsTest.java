package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.plan.TestPlan;
import catchbay.plan.TestPlan.Aim;
import catchbay.quantity.VolumeUnit;
import catchbay.record.DocumentException;
import catchbay.record.PlanText;
import catchbay.run.RunSetup;

import org.junit.jupiter.api.Test;

import java.io.BufferedReader;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.io.StringReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;

/** A plan composed by questions: what the answers of a pipe come to. */
final class PlanQuestionsTest {

    private static final int QUESTIONS = 12;

    private final ByteArrayOutputStream asked = new ByteArrayOutputStream();

    private String composed(String answers) throws IOException {
        return composed(answers, false, 78);
    }

    private String composed(String answers, boolean terminal, int columns) throws IOException {
        PrintStream questions = new PrintStream(asked, true, StandardCharsets.UTF_8);
        return new PlanQuestions(
                        Settings.read(Path.of("../src/examples/full-bay.toml")),
                        new BufferedReader(new StringReader(answers)),
                        questions,
                        new Screen(() -> questions, terminal, columns))
                .composed();
    }

    private TestPlan plan(String answers) throws IOException {
        return PlanText.read(TomlFile.of("new.toml", composed(answers)).fields());
    }

    private String questions() {
        return asked.toString(StandardCharsets.UTF_8);
    }

    /** The example asks for 20 mph: half, once and twice of it, and half way for the proof. */
    @Test
    void emptyLinesTakeWhatIsUsual() throws IOException {
        TestPlan plan = plan("\n".repeat(QUESTIONS));
        assertEquals("T-12", plan.truck());
        assertEquals(0.5, plan.wanted().percent(), 1e-12);
        assertEquals(List.of(10.0, 20.0, 40.0), speeds(plan.points()));
        assertEquals(List.of(10.0, 15.0), speeds(plan.verification().points()));
        assertEquals(3, plan.repeats().orElseThrow().runs());
        assertEquals(10, plan.repeats().orElseThrow().runsMax());
        assertEquals(Optional.empty(), plan.application());
        assertEquals(Optional.empty(), plan.tank().room());
        assertEquals(Optional.empty(), plan.liquid().onTruck());
        assertTrue(questions().contains("in per cent? [above 0 to 100; Enter = 0.5]"), questions());
    }

    private static List<Double> speeds(List<TestPlan.Point> points) {
        return points.stream()
                .map(point -> ((Aim.AtSpeed) point.aim()).speed().milesPerHour())
                .map(mph -> Math.round(mph * 1e6) / 1e6)
                .toList();
    }

    @Test
    void everythingAnswered() throws IOException {
        TestPlan plan =
                plan(
                        """
                        T-31
                        0.4
                        pre-wet
                        10
                        2
                        200
                        flows
                        3 6.5 12
                        up-and-down
                        4
                        6
                        60
                        when-full
                        500
                        50
                        25
                        750
                        yes
                        open "2 in"
                        empty
                        6.5 9
                        """);
        assertEquals("T-31", plan.truck());
        assertEquals(3, plan.points().size());
        assertEquals(
                6.5,
                ((Aim.AtFlow) plan.points().get(1).aim()).flow().perMinute(VolumeUnit.US_GALLON),
                1e-9);
        assertTrue(plan.application().orElseThrow() instanceof RunSetup.Application.PreWet);
        assertTrue(plan.order() instanceof TestPlan.Order.UpAndDown);
        assertEquals(6, plan.repeats().orElseThrow().runsMax());
        assertEquals(60, plan.tank().room().orElseThrow().usGallons(), 1e-9);
        assertEquals(TestPlan.Drained.WHEN_FULL, plan.tank().drained());
        assertEquals(500, plan.liquid().onTruck().orElseThrow().usGallons(), 1e-9);
        assertEquals(50, plan.liquid().reserve().usGallons(), 1e-9);
        assertEquals(25, plan.liquid().recirculated().percent(), 1e-9);
        assertEquals(Optional.of(750.0), plan.warming().watts());
        assertEquals(
                Optional.of(
                        new TestPlan.Granular(
                                true, Optional.of("open \"2 in\""), Optional.of("empty"))),
                plan.granular());
        assertEquals(2, plan.verification().points().size());
    }

    @Test
    void eachWrongAnswerIsRefusedAtOnceAndAskedForAgain() throws IOException {
        TestPlan plan =
                plan(
                        "T-99\n"
                                + "T-12\n"
                                + "0\n"
                                + "0,5\n"
                                + "1e3\n"
                                + "0.5\n\n"
                                + "walks\n\n"
                                + "-5 10\n"
                                + "10 200\n"
                                + "30\n\n"
                                + "2\n"
                                + "3.5\n"
                                + "3\n"
                                + "2\n"
                                + "5\n\n\n\n"
                                + "none\n");
        assertEquals(List.of(30.0), speeds(plan.points()));
        assertEquals(5, plan.repeats().orElseThrow().runsMax());
        assertEquals(List.of(), plan.verification().points());
        for (String sentence :
                List.of(
                        "'T-99' is none of T-12, T-31; give one of T-12, T-31.",
                        "'0' is no number above 0 to 100; give above 0 to 100.",
                        "'0,5' has a comma: use a point, as in 0.5; give above 0 to 100.",
                        "'1e3' is no number",
                        "'walks' is none of speeds, flows",
                        "'-5' is no number above 0 to 150",
                        "'200' is no number above 0 to 150",
                        "'2' is no number without decimals from 3 to 20",
                        "'3.5' is no number without decimals from 3 to 20")) {
            assertTrue(questions().contains(sentence), sentence + "\n" + questions());
        }
    }

    @Test
    void aPointGivenTwiceIsRefused() throws IOException {
        // The verification is of points too.
        TestPlan plan = plan("\n\n\n\n20 5 20.0\n20 30\n\n\n\n\n\n\n20 20\n20 25\n");
        assertEquals(List.of(20.0, 30.0), speeds(plan.points()));
        assertEquals(List.of(20.0, 25.0), speeds(plan.verification().points()));
        assertEquals(
                2,
                questions().split("20 is given twice, and each point is asked for once", -1).length
                        - 1,
                questions());
    }

    /** 15 gal/lane-mile: 4 mph ask for 1 gal/min, and 700 mph would for 175. */
    @Test
    void pointsThatNoMeterIsCertifiedForAreToldAndAskedForAgain() throws IOException {
        TestPlan plan = plan("\n\n\n\n4 20 6\n8 20\n\n\n\n\n\n\n7\n8\n");
        assertEquals(List.of(8.0, 20.0), speeds(plan.points()));
        assertEquals(List.of(8.0), speeds(plan.verification().points()));
        assertTrue(
                questions()
                        .contains(
                                "The bay's reference meters (small from 2 US gal/min to 20 US"
                                        + " gal/min, large from 15 US gal/min to 150 US gal/min)"
                                        + " are not certified for 4 mph (1 US gal/min), 6 mph (1.5"
                                        + " US gal/min); at this rate speeds from 8 to 150 mph can"
                                        + " be measured; give 1 to 100 numbers"),
                questions());
        assertTrue(questions().contains("not certified for 7 mph (1.75 US gal/min)"), questions());
        plan = plan("\n\n\nflows\n1 160\n2 150\n\n\n\n\n\n\nnone\n");
        assertEquals(2, plan.points().size());
        assertTrue(
                questions().contains("are not certified for 1 US gal/min, 160 US gal/min; give"),
                questions());
    }

    /**
     * 8 gal/ton on 250 lb are 1 gal/mile: a third of a gallon a minute at 20 mph. 1500 lb would be
     * 6 gal/mile, 2 gal/min at 20 mph, where the small meter's range begins; 50 lb more lie in it.
     */
    @Test
    void whatIsProposedForPreWettingCanBeMeasured() throws IOException {
        TestPlan plan = plan("\n\npre-wet\n" + "\n".repeat(16));
        assertEquals(List.of(20.0, 30.0, 40.0), speeds(plan.points()));
        assertEquals(List.of(20.0, 25.0), speeds(plan.verification().points()));
        assertTrue(
                questions()
                        .contains(
                                "The usual 250 lb on a lane-mile would ask for 0.3333 US gal/min at"
                                        + " the settings' 20 mph"),
                questions());
        assertTrue(
                questions().contains("lb on a lane-mile? [above 0 to 5000; Enter = 1550]"),
                questions());
        for (TestPlan.Point point : plan.points()) {
            double mph = ((Aim.AtSpeed) point.aim()).speed().milesPerHour();
            assertTrue(8 * 1550 / 2000.0 * mph / 60 > 2, "at " + mph);
        }
    }

    /** The usual flows are those of what is put down, not of the settings: 40 gal/lane-mile. */
    @Test
    void theRateCanBeAskedForAgain() throws IOException {
        TestPlan plan =
                plan(
                        "\n\npre-wet\n8\n1\n250\nspeeds\n10 20\nRate\ndirect\n\n\nflows\n"
                                + "\n".repeat(12));
        assertTrue(questions().contains("at this rate speeds from 12"), questions());
        assertTrue(plan.application().orElseThrow() instanceof RunSetup.Application.Direct);
        assertEquals(
                List.of(6.66667, 13.3333, 26.6667),
                plan.points().stream()
                        .map(point -> ((Aim.AtFlow) point.aim()).flow())
                        .map(flow -> flow.perMinute(VolumeUnit.US_GALLON))
                        .map(flow -> Math.round(flow * 1e8) / 1e8)
                        .toList());
    }

    /** The scale's 300 kg say nothing of the rim. */
    @Test
    void aTankWhoseRoomIsNotKnownIsDrainedAfterEachCatch() throws IOException {
        TestPlan plan = plan("\n".repeat(8) + "when-full\n0\n" + "\n".repeat(5));
        assertEquals(TestPlan.Drained.EACH, plan.tank().drained());
        assertEquals(Optional.empty(), plan.tank().room());
        assertTrue(
                questions().contains("Then it is drained before each catch: when it is full is"),
                questions());
        assertTrue(!questions().contains("When is it drained"), questions());
    }

    /** What is typed behind a question is not in it, so that the next one follows at once. */
    @Test
    void aNarrowTerminalBreaksNoWord() throws IOException {
        String answers = "T-99\n" + "\n".repeat(QUESTIONS);
        composed(answers, true, 40);
        String narrow = questions();
        asked.reset();
        composed(answers);
        assertTrue(
                narrow.startsWith("Which truck? [one of T-12, T-31; Enter =\nT-12] 'T-99' is"),
                narrow);
        assertTrue(narrow.replace("] ", "]\n").lines().allMatch(row -> row.length() <= 40), narrow);
        assertEquals(questions().replaceAll("\\s+", " "), narrow.replaceAll("\\s+", " "));
    }

    @Test
    void answersThatEndOrStopEndItInOneSentence() {
        assertEquals(
                "The answers ended before the plan was whole, so nothing was written; call the"
                        + " command again and answer every question.",
                assertThrows(DocumentException.class, () -> composed("T-12\n0.5\n")).getMessage());
        assertTrue(
                assertThrows(DocumentException.class, () -> composed("T-12\n Stop \n"))
                        .getMessage()
                        .startsWith("The questions were stopped before"));
    }
}

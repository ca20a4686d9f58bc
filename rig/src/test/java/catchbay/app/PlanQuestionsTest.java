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

    private static final int QUESTIONS = 13;

    private final ByteArrayOutputStream asked = new ByteArrayOutputStream();

    private String composed(String answers) throws IOException {
        return new PlanQuestions(
                        Settings.read(Path.of("../src/examples/full-bay.toml")),
                        new BufferedReader(new StringReader(answers)),
                        new PrintStream(asked, true, StandardCharsets.UTF_8))
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
                                + "5\n\n\n\n\n"
                                + "none\n");
        assertEquals(List.of(30.0), speeds(plan.points()));
        assertEquals(5, plan.repeats().orElseThrow().runsMax());
        assertEquals(List.of(), plan.verification().points());
        for (String sentence :
                List.of(
                        "'T-99' is none of T-12, T-31; give one of T-12, T-31.",
                        "'0' is no number above 0 to 100; give above 0 to 100.",
                        "'0,5' is no number above 0 to 100",
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
    void answersThatEndOrStopEndItInOneSentence() {
        assertEquals(
                "The answers ended before the plan was whole, so nothing was written; call the"
                        + " command again and answer every question.",
                assertThrows(DocumentException.class, () -> composed("T-12\n0.5\n")).getMessage());
        assertTrue(
                assertThrows(DocumentException.class, () -> composed("T-12\nstop\n"))
                        .getMessage()
                        .startsWith("The questions were stopped before"));
    }
}

package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;

import java.net.URISyntaxException;
import java.nio.file.Path;

/** On a kept trace: a flying catch with reference and scale. */
final class BudgetCommandTest {

    private static final ObjectMapper JSON = new ObjectMapper();

    private static String trace() throws URISyntaxException {
        return trace("flying-demo");
    }

    private static String trace(String name) throws URISyntaxException {
        return Path.of(
                        BudgetCommandTest.class
                                .getResource("/catchbay/kept/method-1/" + name + ".jsonl.zst")
                                .toURI())
                .toString();
    }

    private static JsonNode output(JsonNode budget, String name) {
        for (JsonNode output : budget.get("outputs")) {
            if (output.get("name").asText().equals(name)) {
                return output;
            }
        }
        throw new AssertionError(name + " in " + budget);
    }

    /** Shares add up to the whole, contributions to the standard uncertainty as squares. */
    @Test
    void sharesAddUp() throws Exception {
        CommandLineRun run = CommandLineRun.of("budget", trace(), "--json");
        assertEquals(0, run.code(), run.errors());
        JsonNode budget = JSON.readTree(run.output());
        assertEquals(10, budget.get("outputs").size());
        for (JsonNode output : budget.get("outputs")) {
            double shares = 0;
            double squares = 0;
            for (JsonNode term : output.get("terms")) {
                shares += term.get("share_of_variance").asDouble();
                squares += Math.pow(term.get("contribution").asDouble(), 2);
            }
            double standard = output.get("standard_uncertainty").asDouble();
            assertEquals(standard * standard, squares, 1e-4 * squares, output.toString());
            assertEquals(standard > 0 ? 1 : 0, shares, 1e-4, output.toString());
        }
    }

    /**
     * The same model by drawing (JCGM 101:2008). What is known from a few readings is drawn as
     * Student's t (6.4.9), whose variance is larger by v/(v - 2); so the interval is a little wider
     * than that by effective degrees of freedom, which holds the truth as often as it says.
     */
    @Test
    void drawingAgrees() throws Exception {
        CommandLineRun run =
                CommandLineRun.of("budget", trace(), "--json", "--draws", "200000", "--seed", "7");
        assertEquals(0, run.code(), run.errors());
        JsonNode error = output(JSON.readTree(run.output()), "meter error");
        double squares = 0;
        for (JsonNode term : error.get("terms")) {
            double contribution = term.get("contribution").asDouble();
            JsonNode degrees = term.get("degrees_of_freedom");
            double wider = degrees.isNumber() ? degrees.asDouble() / (degrees.asDouble() - 2) : 1;
            squares += contribution * contribution * wider;
        }
        double standard = Math.sqrt(squares);
        JsonNode drawn = error.get("monte_carlo");
        assertEquals(standard, drawn.get("standard_uncertainty").asDouble(), 0.01 * standard);
        assertEquals(
                2 * error.get("expanded_uncertainty").asDouble(),
                drawn.get("high").asDouble() - drawn.get("low").asDouble(),
                0.05 * standard * 4);
    }

    @Test
    void thePageBeginsWithTheLargestShare() throws Exception {
        CommandLineRun run = CommandLineRun.of("budget", trace(), "--of", "measured");
        assertEquals(0, run.code(), run.errors());
        double last = 100;
        int rows = 0;
        for (String line : run.output().lines().toList()) {
            if (line.matches(" +<?\\d+\\.\\d % .*")) {
                double share = Double.parseDouble(line.strip().split(" ")[0].replace("<", ""));
                assertTrue(share <= last, run.output());
                last = share;
                rows++;
            }
            assertTrue(line.length() <= 80, line);
        }
        assertTrue(rows >= 4, run.output());
    }

    /** Both count speed pulses back and measure with a meter; the other has no diverter. */
    @Test
    void onlyWhatPlaysAPartIsSaidToBeAssumed() throws Exception {
        String flying = assumed("flying-demo");
        assertTrue(flying.contains("viscosity at the reference"), flying);
        assertFalse(flying.contains("speed"), flying);
        String standing = assumed("standing-display");
        assertTrue(standing.contains("temperatures, the line"), standing);
        assertFalse(standing.contains("diverter"), standing);
        assertFalse(standing.contains("speed"), standing);
    }

    private static String assumed(String trace) throws Exception {
        String page =
                CommandLineRun.of("budget", trace(trace), "--of", "application-error")
                        .output()
                        .replaceAll("\\s+", " ");
        int begin = page.indexOf("Not entered but assumed");
        assertTrue(begin >= 0, page);
        return page.substring(begin, page.indexOf(". ", begin));
    }

    @Test
    void whatIsNotThereIsSaid() throws Exception {
        CommandLineRun figure = CommandLineRun.of("budget", trace(), "--of", "weight");
        assertEquals(2, figure.code());
        assertEquals(
                "catchbay: option --of: 'weight' is no figure of this catch; it has by-reference,"
                    + " by-scale, reference-against-scale, asked, reported, measured, meter-error,"
                    + " control-error, application-error, new-constant\n",
                figure.errors());
        CommandLineRun draws = CommandLineRun.of("budget", trace(), "--draws", "10");
        assertEquals(2, draws.code());
        assertEquals(
                "catchbay: option --draws: Monte Carlo needs 1000 to 10000000 draws, was asked for"
                        + " 10\n",
                draws.errors());
        CommandLineRun unknown = CommandLineRun.of("budget", "no-such-run");
        assertEquals(2, unknown.code());
        assertEquals(1, unknown.errors().lines().count(), unknown.errors());
    }
}

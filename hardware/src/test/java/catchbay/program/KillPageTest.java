package catchbay.program;

import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.app.Interruptions.Work;
import catchbay.program.Kills.Left;
import catchbay.program.Kills.Phase;
import catchbay.store.UnreliableFiles.Fault;

import org.junit.jupiter.api.Test;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** The section "Kills and torn writes" has the tables that {@link KillCampaign} prints now. */
final class KillPageTest {

    @Test
    void everythingThatIsPlayedHasItsRow() throws Exception {
        String page = Files.readString(Path.of("..", "src", "docs", "fault-campaign.md"));
        for (Phase phase : Phase.values()) {
            assertTrue(page.contains("\n| " + phase.words() + " | "), phase.words());
        }
        for (Left left : Left.values()) {
            assertTrue(page.contains(" | " + left.words() + " |"), left.words());
        }
        for (Work work : Work.values()) {
            for (Fault fault : Fault.values()) {
                Matcher row =
                        Pattern.compile(
                                        "\n"
                                                + Pattern.quote(work.words())
                                                + ", (\\d+) effects:\n(\n?\\|.*)*\n\\| "
                                                + Pattern.quote(fault.words())
                                                + " \\| (\\d+) \\|")
                                .matcher(page);
                assertTrue(
                        row.find() && row.group(1).equals(row.group(3)),
                        work + " " + fault + ": every effect");
            }
        }
    }
}

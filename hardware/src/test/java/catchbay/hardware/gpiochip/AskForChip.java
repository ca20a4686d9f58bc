package catchbay.hardware.gpiochip;

import catchbay.port.PortException;

/** A process of another user that asks for a chip and says what it was told. */
final class AskForChip {

    private AskForChip() {}

    public static void main(String[] words) {
        try {
            System.out.println(Chip.find(words[0]));
        } catch (PortException refusal) {
            System.out.println(refusal.kind() + ": " + refusal.getMessage());
        }
    }
}

"""What no plan can beat when hands, fires, pots and canners are asked together."""

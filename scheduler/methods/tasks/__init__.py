"""Work that several methods share: lay, wet, inspect, lift, each as tasks."""
